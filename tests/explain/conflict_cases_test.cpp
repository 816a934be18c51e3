#include "explain/conflict/conflicts.h"
#include "search/planner.h"
#include "support/builder.h"

#include <algorithm>
#include <atomic>
#include <string>
#include <vector>

#include <doctest/doctest.h>

namespace {

using Lines = std::vector<std::string>;

/// A day from 08:00; signing in takes 5 minutes and calls are multiples of 5, as where nothing else
/// is written.
std::string film(const std::string& more, const std::string& day = "") {
  return R"({"greasepaint": 1, "title": "Conflicts", "zone": "Europe/Dublin",
    "days": [{"date": "2027-04-17", "nobody_before": "08:00")" +
         day + "}], " + more + "}";
}

gp::Conflicts conflicts(const std::string& text) {
  const gp::Production production = gp::test::production_of(text);
  gp::Wishes wishes;
  wishes.effort = 0.05;
  gp::Stop never;
  const gp::Plan plan = gp::make_plan(production, wishes, never);
  return gp::conflicts_of(production, wishes, plan, never);
}

/// The only conflict of a production.
gp::Conflict conflict(const std::string& text) {
  const gp::Conflicts all = conflicts(text);
  REQUIRE(all.all.size() == 1);
  CHECK(!all.stopped);
  return all.all[0];
}

/// Its facts, in order of their words.
Lines facts(const gp::Conflict& conflict) {
  Lines lines;
  for (const gp::ConflictFact& fact : conflict.facts) lines.push_back(fact.words);
  std::sort(lines.begin(), lines.end());
  return lines;
}

/// The change of each that is enough alone, in their order; each must be shown to be the least.
Lines changes(const gp::Conflict& conflict) {
  Lines lines;
  for (const gp::ConflictFact& fact : conflict.facts) {
    if (!fact.enough) continue;
    if (fact.by > 0) CHECK(fact.least);
    lines.push_back(fact.change);
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

}  // namespace

template <>
struct doctest::StringMaker<Lines> {
  static doctest::String convert(const Lines& lines) {
    std::string text;
    for (const std::string& line : lines) text += "\n  " + line;
    return text.c_str();
  }
};

TEST_SUITE("explain/conflict_cases") {
  TEST_CASE("somebody must go before the scene ends") {
    // 16:55 and 30 minutes: 17:25. Within Noor's time it would be 5 minutes, or begin at 16:30.
    const gp::Conflict c = conflict(film(R"("people": [{"id": "bo"}, {"id": "noor", "name": "Noor",
        "free": ["2027-04-17 09:00-17:00"]}],
      "roles": [{"id": "queen", "from": ["noor"]}],
      "scenes": [{"id": "lamp", "shoot_minutes": 5},
        {"id": "storm", "at": "16:55", "shoot_minutes": 30, "cast": [{"role": "queen"}]}])"));
    CHECK(c.obstacle == gp::Obstacle::scene);
    CHECK(c.proven);
    CHECK(c.smallest);
    CHECK(c.text ==
          "storm cannot be filmed, not even on a day of its own. No fewer facts than these stand "
          "in the way:");
    CHECK(facts(c) == Lines{"Noor is free until 17:00",
                            "queen is one of 1 named",
                            "storm begins at 16:55",
                            "storm shoots for 30 minutes"});
    CHECK(changes(c) == Lines{"if Noor could stay until 17:25 instead of 17:00",
                              "if others than those named might be queen",
                              "if storm might begin 25 minutes earlier or later than 16:55",
                              "if storm took 5 minutes to shoot instead of 30"});
    for (const gp::ConflictFact& fact : c.facts) {
      if (fact.words == "Noor is free until 17:00") CHECK(fact.path == "people[1].free[0]");
      if (fact.words == "queen is one of 1 named") CHECK(fact.path == "roles[0].from");
      if (fact.words == "storm begins at 16:55") CHECK(fact.path == "scenes[1].at");
    }
  }

  TEST_CASE("somebody comes too late, or does not come that day") {
    // From 10:00, signed in at 10:05; the shot must begin by 09:40.
    const gp::Conflict late = conflict(film(R"("people": [{"id": "noor", "name": "Noor",
        "free": ["2027-04-17 10:00-17:00"]}],
      "roles": [{"id": "queen", "person": "noor"}],
      "scenes": [{"id": "dawn", "shoot_minutes": 20, "between": "09:00-10:00",
                  "cast": [{"role": "queen"}]}])"));
    // Somebody else might play it: nobody else is there, and how many come is not a fact of a part
    // that is given. So the part's person is none of the set.
    CHECK(facts(late) == Lines{"Noor is free from 10:00", "dawn must end by 10:00"});
    CHECK(changes(late) == Lines{"if Noor could come at 09:35 instead of 10:00",
                                 "if dawn might end at 10:25 instead of 10:00"});
    const gp::Conflict away = conflict(film(R"("people": [{"id": "bo"}, {"id": "noor",
        "name": "Noor", "free": ["2027-04-18"]}],
      "roles": [{"id": "queen", "person": "noor"}],
      "scenes": [{"id": "dawn", "shoot_minutes": 20, "cast": [{"role": "queen"}]}])"));
    CHECK(facts(away) == Lines{"Noor is not free on 2027-04-17", "Noor plays queen"});
    CHECK(changes(away) ==
          Lines{"if Noor could come on 2027-04-17", "if somebody else might play queen"});
  }

  TEST_CASE("a chain that is longer than there is time") {
    // Called at 08:00, signed in 08:05, 60 at the rail and 10 to wait: 09:15; the shot would have
    // to begin by 09:10. Five minutes are missing, whoever gives them.
    const gp::Conflict c = conflict(film(R"("people": [{"id": "bo", "name": "Bo"}],
      "stations": [{"id": "rail"}],
      "looks": [{"id": "royal", "name": "the robes",
                 "steps": [{"at": "rail", "minutes": 60, "then_wait": 10}]}],
      "roles": [{"id": "king", "person": "bo", "look": "royal"}],
      "scenes": [{"id": "feast", "shoot_minutes": 20, "between": "09:00-09:30",
                  "cast": [{"role": "king"}]}])"));
    CHECK(c.smallest);
    CHECK(facts(c) == Lines{"feast must end by 09:30",
                            "feast shoots for 20 minutes",
                            "nobody is called before 08:00",
                            "putting on the robes at rail takes 60 minutes",
                            "signing in takes 5 minutes",
                            "the wait after putting on the robes at rail is 10 minutes"});
    CHECK(changes(c) ==
          Lines{"if feast might end at 09:35 instead of 09:30",
                "if feast took 15 minutes to shoot instead of 20",
                "if people might be called at 07:55 instead of 08:00",
                "if putting on the robes at rail took 55 minutes instead of 60",
                "if signing in took 0 minutes instead of 5",
                "if the wait after putting on the robes at rail took 5 minutes instead of 10"});
  }

  TEST_CASE("a crowd, one painter") {
    // Five at 20 minutes by 09:30 need from 07:50, called at 07:45; from 08:05 there are 85
    // minutes: 17 each, or four people; or all five by 09:45.
    const gp::Conflict c = conflict(film(R"("people": [{"id": "a"}, {"id": "b"}, {"id": "c"},
      {"id": "d"}, {"id": "e"}, {"id": "bo", "can": ["paint"]}],
      "stations": [{"id": "chair", "name": "the paint chair", "places": 2}],
      "looks": [{"id": "guard", "steps": [{"at": "chair", "minutes": 20, "by": "paint"}]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard", "from": ["a", "b", "c", "d", "e"]}],
      "scenes": [{"id": "march", "shoot_minutes": 10, "at": "09:30",
                  "cast": [{"role": "guard", "people": 5}]}])"));
    CHECK(c.obstacle == gp::Obstacle::heads);
    CHECK(c.smallest);
    CHECK(facts(c) == Lines{"1 person comes who can paint",
                            "march asks for 5 guard",
                            "march begins at 09:30",
                            "nobody is called before 08:00",
                            "putting on guard at the paint chair takes 20 minutes"});
    CHECK(changes(c) == Lines{"if march asked for 4 guard instead of 5",
                              "if march might begin 15 minutes earlier or later than 09:30",
                              "if one more person came who can paint",
                              "if people might be called at 07:45 instead of 08:00",
                              "if putting on guard at the paint chair took 17 minutes instead of "
                              "20"});
  }

  TEST_CASE("a crowd, one chair") {
    // As before with painters enough: another chair halves it (three rounds of 20 are done 09:05).
    const gp::Conflict c = conflict(film(R"("people": [{"id": "a"}, {"id": "b"}, {"id": "c"},
      {"id": "d"}, {"id": "e"}, {"id": "bo", "can": ["paint"]}, {"id": "li", "can": ["paint"]}],
      "stations": [{"id": "chair", "name": "the paint chair"}],
      "looks": [{"id": "guard", "steps": [{"at": "chair", "minutes": 20, "by": "paint"}]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard", "from": ["a", "b", "c", "d", "e"]}],
      "scenes": [{"id": "march", "shoot_minutes": 10, "at": "09:30",
                  "cast": [{"role": "guard", "people": 5}]}])"));
    const Lines told = changes(c);
    CHECK(facts(c)[4] == "the paint chair has 1 place");
    CHECK(told[4] == "if the paint chair had 2 places instead of 1");
    CHECK(c.smallest);
  }

  TEST_CASE("a no, a need, an answer, a part's own person") {
    const gp::Conflict refused = conflict(film(R"("people": [{"id": "ada", "name": "Ada",
        "no": ["fog"]}],
      "roles": [{"id": "ghost"}],
      "scenes": [{"id": "lamp", "shoot_minutes": 10, "hazards": ["fog"],
                  "cast": [{"role": "ghost"}]}])"));
    CHECK(facts(refused) == Lines{"1 person comes", "Ada has said no to fog"});
    CHECK(changes(refused) ==
          Lines{"if one more person came",
                "if somebody like Ada came who does not mind fog (Ada's no stands)"});
    const gp::Conflict skill = conflict(film(R"("people": [{"id": "ada"}],
      "scenes": [{"id": "lamp", "shoot_minutes": 10,
                  "crew": [{"job": "smoke", "needs": ["chemistry"]}]}])"));
    CHECK(facts(skill) == Lines{"0 people come who can chemistry",
                                "lamp asks for 1 smoke",
                                "smoke needs chemistry"});
    CHECK(changes(skill) == Lines{"if lamp asked for 0 smoke instead of 1",
                                  "if one more person came who can chemistry",
                                  "if smoke did not need chemistry"});
    const gp::Conflict asked = conflict(film(R"("people": [{"id": "ada"},
        {"id": "bo", "name": "Bo", "answer": "asked"}],
      "roles": [{"id": "keeper", "person": "bo"}],
      "scenes": [{"id": "lamp", "shoot_minutes": 10, "cast": [{"role": "keeper"}]}])"));
    CHECK(facts(asked) == Lines{"Bo has not said yes", "Bo plays keeper"});
    CHECK(changes(asked) == Lines{"if Bo said yes", "if somebody else might play keeper"});
  }

  TEST_CASE("light: two sets of three, and one of them is told") {
    // In April at 53 degrees north it is light at ten to four and at eight in the morning: dark is
    // not between 10:00 and 16:00; were it only to end by 16:00, people could not be called before
    // 08:00. Either `between` from 10:00 or `nobody_before` goes with the other two.
    const gp::Conflict c = conflict(film(R"("places": [{"id": "hall", "lat": 53.35, "lon": -6.26}],
      "scenes": [{"id": "march", "shoot_minutes": 30, "light": "dark",
                  "between": "10:00-16:00"}])",
                                         R"(, "base": "hall")"));
    CHECK(c.smallest);
    REQUIRE(c.facts.size() == 3);
    const Lines told = facts(c);
    CHECK(std::count(told.begin(), told.end(), "march is filmed in the dark") == 1);
    CHECK(std::count(told.begin(), told.end(), "march must end by 16:00") == 1);
    for (const gp::ConflictFact& fact : c.facts) {
      CHECK(fact.needed);
      const bool in_both =
          fact.words == "march is filmed in the dark" || fact.words == "march must end by 16:00";
      CHECK(fact.enough == in_both);
    }
  }

  TEST_CASE("at a time that the day does not reach") {
    // 17:45 and 30 minutes: 18:15.
    const gp::Conflict c =
        conflict(film(R"("scenes": [{"id": "march", "shoot_minutes": 30, "at": "17:45"}])",
                      R"(, "first_shot": "09:00", "wrap_by": "18:00")"));
    CHECK(facts(c) ==
          Lines{"march begins at 17:45", "march shoots for 30 minutes", "the day wraps by 18:00"});
    CHECK(changes(c) == Lines{"if march might begin 15 minutes earlier or later than 17:45",
                              "if march took 15 minutes to shoot instead of 30",
                              "if the day might wrap at 18:15 instead of 18:00"});
    const gp::Conflict early = conflict(
        film(R"("scenes": [{"id": "march", "shoot_minutes": 30, "between": "08:10-09:20"}])",
             R"(, "first_shot": "09:00")"));
    CHECK(facts(early) == Lines{"march must end by 09:20",
                                "march shoots for 30 minutes",
                                "the first shot is at 09:00"});
    CHECK(changes(early) == Lines{"if march might end at 09:30 instead of 09:20",
                                  "if march took 20 minutes to shoot instead of 30",
                                  "if the first shot might be at 08:50 instead of 09:00"});
  }

  TEST_CASE("things: props, and helmets with what stands in for them") {
    const gp::Conflict props = conflict(film(R"("items": [{"id": "lamp", "name": "lamps",
        "count": 2}],
      "scenes": [{"id": "march", "shoot_minutes": 30,
                  "props": [{"item": "lamp", "count": 3}]}])"));
    CHECK(facts(props) == Lines{"march needs 3 of lamps as props", "there are 2 of lamps"});
    CHECK(changes(props) == Lines{"if march needed 2 of lamps instead of 3",
                                  "if there were 3 of lamps instead of 2"});
    const gp::Conflict worn = conflict(film(R"("people": [{"id": "a"}, {"id": "b"}, {"id": "c"}],
      "stations": [{"id": "rail", "places": 3}],
      "items": [{"id": "helmet", "instead": ["bucket"]}, {"id": "bucket"}],
      "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 5}], "items": ["helmet"]}],
      "roles": [{"id": "guard", "crowd": true, "look": "guard"}],
      "scenes": [{"id": "march", "shoot_minutes": 10,
                  "cast": [{"role": "guard", "people": 3}]}])"));
    CHECK(facts(worn) ==
          Lines{"march asks for 3 guard", "there is 1 of bucket", "there is 1 of helmet"});
    CHECK(changes(worn) == Lines{"if march asked for 2 guard instead of 3",
                                 "if there were 2 of bucket instead of 1",
                                 "if there were 2 of helmet instead of 1"});
  }

  TEST_CASE("a station that closes, a look that does not hold, a station to be got ready") {
    // 08:05 to 08:35 at a rail that closes at 08:30.
    const gp::Conflict closed = conflict(film(R"("people": [{"id": "bo"}],
      "stations": [{"id": "rail", "open": "07:00-08:30"}],
      "looks": [{"id": "royal", "steps": [{"at": "rail", "minutes": 30}]}],
      "roles": [{"id": "king", "person": "bo", "look": "royal"}],
      "scenes": [{"id": "feast", "shoot_minutes": 20, "cast": [{"role": "king"}]}])"));
    CHECK(changes(closed) == Lines{"if people might be called at 07:55 instead of 08:00",
                                   "if putting on royal at rail took 25 minutes instead of 30",
                                   "if rail closed at 08:35 instead of 08:30",
                                   "if signing in took 0 minutes instead of 5"});
    CHECK(closed.facts.size() == 4);
    // 15 to dry and 50 to shoot: the end is 65 minutes after the chain.
    const gp::Conflict holds = conflict(film(R"("people": [{"id": "bo"}],
      "stations": [{"id": "rail"}],
      "looks": [{"id": "royal", "steps": [{"at": "rail", "minutes": 30, "then_wait": 15}],
                 "holds_for": 60}],
      "roles": [{"id": "king", "person": "bo", "look": "royal"}],
      "scenes": [{"id": "feast", "shoot_minutes": 50, "cast": [{"role": "king"}]}])"));
    CHECK(changes(holds) ==
          Lines{"if feast took 45 minutes to shoot instead of 50",
                "if royal held for 65 minutes instead of 60",
                "if the wait after putting on royal at rail took 10 minutes instead of 15"});
    CHECK(holds.facts.size() == 3);
    // 08:05, 40 to get it ready, 20 for the step: 09:05, and the shot is at 09:00.
    const gp::Conflict ready = conflict(film(R"("people": [{"id": "ada"},
        {"id": "bo", "can": ["paint"]}],
      "stations": [{"id": "chair", "set_minutes": 40}],
      "looks": [{"id": "royal", "steps": [{"at": "chair", "minutes": 20, "by": "paint"}]}],
      "roles": [{"id": "king", "person": "ada", "look": "royal"}],
      "scenes": [{"id": "feast", "shoot_minutes": 20, "at": "09:00",
                  "cast": [{"role": "king"}]}])"));
    CHECK(changes(ready) == Lines{"if feast might begin 5 minutes earlier or later than 09:00",
                                  "if getting chair ready took 35 minutes instead of 40",
                                  "if people might be called at 07:55 instead of 08:00",
                                  "if putting on royal at chair took 15 minutes instead of 20",
                                  "if signing in took 0 minutes instead of 5"});
    CHECK(ready.facts.size() == 5);
  }

  TEST_CASE("the way, and the set-up of a scene's crew") {
    // 08:00, 5 to sign in and 20 to walk: 08:25.
    const gp::Conflict way =
        conflict(film(R"("places": [{"id": "hall", "minutes_to": {"beach": 20}},
        {"id": "beach"}],
      "people": [{"id": "bo"}],
      "roles": [{"id": "king", "person": "bo"}],
      "scenes": [{"id": "dive", "place": "beach", "shoot_minutes": 20, "at": "08:20",
                  "cast": [{"role": "king"}]}])",
                      R"(, "base": "hall")"));
    CHECK(facts(way) == Lines{"dive begins at 08:20",
                              "nobody is called before 08:00",
                              "signing in takes 5 minutes",
                              "the way between hall and beach takes 20 minutes"});
    CHECK(changes(way) == Lines{"if dive might begin 5 minutes earlier or later than 08:20",
                                "if people might be called at 07:55 instead of 08:00",
                                "if signing in took 0 minutes instead of 5",
                                "if the way between hall and beach took 15 minutes instead of 20"});
    // The set-up begins at 08:02; whoever does the light would be called at 07:55, the last
    // multiple of five before 07:57. Signing in within 2 minutes lets them come at 08:00.
    const gp::Conflict crew = conflict(film(R"("people": [{"id": "bo"}],
      "scenes": [{"id": "dawn", "set_minutes": 15, "shoot_minutes": 20, "at": "08:17",
                  "crew": [{"job": "light"}]}])"));
    CHECK(crew.job == "light");
    CHECK(facts(crew) == Lines{"dawn asks for 1 light",
                               "dawn begins at 08:17",
                               "dawn is set up in 15 minutes",
                               "nobody is called before 08:00",
                               "signing in takes 5 minutes"});
    CHECK(changes(crew) == Lines{"if dawn asked for 0 light instead of 1",
                                 "if dawn might begin 3 minutes earlier or later than 08:17",
                                 "if dawn took 12 minutes to set up instead of 15",
                                 "if people might be called at 07:55 instead of 08:00",
                                 "if signing in took 2 minutes instead of 5"});
  }

  TEST_CASE("a meal together that the shot leaves no room for") {
    // From 11:00 to 14:00 without a break: Bo is there from 10:55 to 14:00, all of 12:00 to 14:00.
    // A minute shorter and Bo is gone before the meal's span ends: then nobody need eat.
    const gp::Conflict c = conflict(film(R"("people": [{"id": "bo"}],
      "roles": [{"id": "king", "person": "bo"}],
      "scenes": [{"id": "feast", "shoot_minutes": 180, "at": "11:00",
                  "cast": [{"role": "king"}]}])",
                                         R"(, "meals": [{"name": "lunch", "minutes": 40,
                                               "between": "12:00-14:00"}])"));
    CHECK(facts(c) == Lines{"feast begins at 11:00",
                            "feast shoots for 180 minutes",
                            "lunch takes 40 minutes within 12:00-14:00, all together"});
    CHECK(changes(c) == Lines{"if feast might begin 1 minute earlier or later than 11:00",
                              "if feast took 179 minutes to shoot instead of 180",
                              "if lunch were not held"});
  }

  TEST_CASE("two things stand in the way: no change of one is enough") {
    const gp::Conflict c = conflict(film(R"("items": [{"id": "lamp", "count": 2}],
      "people": [{"id": "bo", "name": "Bo", "free": ["2027-04-17 08:00-09:00"]}],
      "roles": [{"id": "king", "person": "bo"}],
      "scenes": [{"id": "feast", "shoot_minutes": 20, "at": "10:00", "cast": [{"role": "king"}],
                  "props": [{"item": "lamp", "count": 3}]}])"));
    CHECK(c.smallest);
    CHECK(c.facts.size() == 2);
    CHECK(changes(c).empty());
    CHECK(c.together.size() == 2);
    CHECK(gp::conflicts_as_text({{c}, false}).find("with all of this together") !=
          std::string::npos);
  }

  TEST_CASE("alone it could be, together it cannot: the unit has too little time") {
    // 40 and 30 minutes on one unit between 10:00 and 11:00: 10 too many. Begun at 09:50, the
    // dishes are done when dinner begins at 10:20.
    const gp::Conflict c = conflict(film(R"("scenes": [
      {"id": "dinner", "shoot_minutes": 40, "between": "10:00-11:00", "worth": 3},
      {"id": "dishes", "shoot_minutes": 30, "between": "10:00-11:00"}])"));
    CHECK(c.obstacle == gp::Obstacle::together);
    CHECK(c.proven);
    CHECK(c.smallest);
    CHECK(c.text ==
          "dishes could be filmed on a day of its own, but not together with the other scenes. No "
          "fewer facts than these stand in the way:");
    CHECK(facts(c) == Lines{"dinner is filmed too",
                            "dishes may begin at 10:00",
                            "dishes must end by 11:00",
                            "dishes shoots for 30 minutes"});
    CHECK(changes(c) == Lines{"if dinner were left out",
                              "if dishes might begin at 09:50 instead of 10:00",
                              "if dishes might end at 11:10 instead of 11:00",
                              "if dishes took 20 minutes to shoot instead of 30"});
  }

  TEST_CASE("alone it could be, but it comes after a scene that ends too late") {
    // Dinner ends at 17:00; the dishes, on a unit of their own, must be over by 16:30.
    const gp::Conflict c = conflict(film(R"("units": [{"id": "main"}, {"id": "table"}],
      "scenes": [{"id": "dinner", "shoot_minutes": 60, "at": "16:00", "worth": 3},
                 {"id": "dishes", "shoot_minutes": 20, "between": "10:00-16:30", "unit": "table",
                  "after": ["dinner"]}])"));
    CHECK(c.obstacle == gp::Obstacle::together);
    CHECK(facts(c) ==
          Lines{"dinner is filmed too", "dishes comes after dinner", "dishes must end by 16:30"});
    CHECK(changes(c) == Lines{"if dinner were left out",
                              "if dishes might end at 17:20 instead of 16:30",
                              "if dishes need not come after dinner"});
  }

  TEST_CASE("a plan that leaves nothing out has no conflicts, and a stop leaves the rest out") {
    CHECK(conflicts(film(R"("scenes": [{"id": "lamp", "shoot_minutes": 5}])")).all.empty());
    const gp::Production production = gp::test::production_of(
        film(R"("scenes": [{"id": "lamp", "shoot_minutes": 5, "between": "08:00-08:04"}])"));
    gp::Plan plan;
    plan.not_filmed.push_back({gp::SceneId(0), "why"});
    std::atomic<bool> requested = true;
    gp::Stop stop(std::nullopt, &requested);
    const gp::Conflicts none = gp::conflicts_of(production, {}, plan, stop);
    CHECK(none.all.empty());
    CHECK(none.stopped);
    CHECK(gp::conflicts_as_text(none) == "Stopped before the end: there may be more to say.\n");
  }

  TEST_CASE("the JSON says the same") {
    const std::string text = film(R"("items": [{"id": "lamp", "name": "lamps", "count": 2}],
      "scenes": [{"id": "march", "shoot_minutes": 30, "props": [{"item": "lamp", "count": 3}]}])");
    CHECK(gp::write_conflicts(gp::test::production_of(text), conflicts(text)) == R"({
  "cannot": [
    {
      "scene": "march",
      "obstacle": "alone",
      "proven": true,
      "smallest": true,
      "text": "march cannot be filmed, not even on a day of its own. No fewer facts than these stand in the way:",
      "facts": [
        {
          "path": "items[0].count",
          "fact": "there are 2 of lamps",
          "needed": true,
          "enough": true,
          "change": "if there were 3 of lamps instead of 2",
          "by": 1,
          "least": true
        },
        {
          "path": "scenes[0].props[0].count",
          "fact": "march needs 3 of lamps as props",
          "needed": true,
          "enough": true,
          "change": "if march needed 2 of lamps instead of 3",
          "by": 1,
          "least": true
        }
      ]
    }
  ],
  "stopped": false
}
)");
  }
}
