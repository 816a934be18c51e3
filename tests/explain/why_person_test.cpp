// Chains worked out by hand.
#include "explain/why/reliefs.h"
#include "explain/why/why.h"
#include "explain/why/why_json.h"
#include "explain/why/why_target.h"
#include "model/check.h"
#include "search/planner.h"
#include "support/builder.h"

#include <atomic>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using gp::test::at;
using gp::test::Planned;

namespace {

// Three chairs, a coat of 20 minutes that dries for 10, the beach 6 minutes away, a shot at 08:45
// that must end by 09:15. Ada sits down at 07:50 in chair 2, which goes to Bo at 08:10; Cleo and
// Dov have chairs 1 and 3 from 07:56 to 08:16. So Ada could begin at 08:15 at the latest (20
// minutes and 10 to dry before 08:45), and until 08:15 no chair has 20 minutes left for her.
constexpr const char* kFilm =
    R"({"greasepaint": 1, "title": "Three chairs", "zone": "Europe/Dublin",
  "sign_in_minutes": 10, "round_to": 5,
  "days": [{"date": "2027-04-17", "base": "hall", "nobody_before": "07:00", "wrap_by": "09:15"}],
  "places": [{"id": "hall", "minutes_to": {"beach": 6}}, {"id": "beach"}],
  "people": [{"id": "ada", "name": "Ada"}, {"id": "bo", "name": "Bo"}, {"id": "cleo", "name": "Cleo"},
             {"id": "dov", "name": "Dov"}, {"id": "eve", "answer": "no"}, {"id": "finn"}],
  "roles": [{"id": "guard", "crowd": true, "look": "guard"}],
  "looks": [{"id": "guard", "name": "Guard",
             "steps": [{"at": "paint", "minutes": 20, "then_wait": 10}]}],
  "stations": [{"id": "paint", "name": "Face paint", "places": PLACES, "open": "07:00-12:00"},
               {"id": "spare", "name": "Spare"}],
  "scenes": [{"id": "march", "name": "The march", "place": "beach", "shoot_minutes": 30,
              "cast": [{"role": "guard", "people": 4}]},
             {"id": "storm", "name": "The storm", "shoot_minutes": 300}]})";

constexpr const char* kPlan = R"({"greasepaint_plan": 1, "title": "Three chairs",
  "days": [{"date": "2027-04-17", "first_shot": "08:45", "wrap": "09:15",
    "scenes": [{"scene": "march", "unit": "main", "set_at": "08:45", "shoot_at": "08:45",
                "until": "09:15",
                "cast": [{"role": "guard", "people": ["ada", "bo", "cleo", "dov"]}], "crew": []}],
    "wears": [{"person": "ada", "look": "guard", "from": "07:50", "until": "09:15", "items": []},
              {"person": "cleo", "look": "guard", "from": "07:56", "until": "09:15", "items": []},
              {"person": "dov", "look": "guard", "from": "07:56", "until": "09:15", "items": []},
              {"person": "bo", "look": "guard", "from": "08:10", "until": "09:15", "items": []}],
    "steps": [{"person": "ada", "look": "guard", "part": "on", "step": 0, "station": "paint",
               "place": 2, "from": "07:50", "until": "08:10"},
              {"person": "cleo", "look": "guard", "part": "on", "step": 0, "station": "paint",
               "place": 1, "from": "07:56", "until": "08:16"},
              {"person": "dov", "look": "guard", "part": "on", "step": 0, "station": "paint",
               "place": 3, "from": "07:56", "until": "08:16"},
              {"person": "bo", "look": "guard", "part": "on", "step": 0, "station": "paint",
               "place": 2, "from": "08:10", "until": "08:30"}],
    "ready": [], "meals": [], "people": []}],
  "unfilled": [], "not_filmed": [{"scene": "storm", "why": "It takes 300 minutes and the day ends."}],
  "notes": [], "totals": {"on_site": 0, "weighted_on_site": 0, "waiting": 0}})";

Planned chairs(int places = 3) {
  std::string film = kFilm;
  film.replace(film.find("PLACES"), 6, std::to_string(places));
  Planned all;
  all.production = gp::test::production_of(film);
  all.plan = gp::test::plan_of(kPlan, all.production);
  all.recount();
  REQUIRE(all.broken().empty());
  return all;
}

gp::WhyPerson why(const Planned& all, const std::string& id) {
  return gp::why_person(all.production, all.plan, {}, all.person(id));
}

const gp::WhyCause* cause(const std::vector<gp::WhyCause>& causes, gp::WhyFact fact) {
  for (const gp::WhyCause& one : causes) {
    if (one.fact == fact) return &one;
  }
  return nullptr;
}

}  // namespace

TEST_SUITE("explain/why_person") {
  TEST_CASE("a call is held by full chairs, drying, the way and the shot, each with its time") {
    const Planned all = chairs();
    const gp::WhyPerson found = why(all, "ada");
    REQUIRE(found.calls.size() == 1);
    const gp::WhyCall& call = found.calls[0];
    // in the chair at 07:50, 10 minutes to sign in: 07:40
    CHECK(call.stay.call == at("07:40"));
    CHECK(call.held);
    CHECK(call.because ==
          "Call 07:40, because 10 minutes to sign in; in place 2 of Face paint at 07:50; places 1 "
          "and 3 have no room until 08:16; 10 minutes to dry; shot of \"The march\" at 08:45; the "
          "day must wrap by 09:15.");
    REQUIRE(call.chain.size() == 2);
    const gp::WhyLink& chair = call.chain[0];
    CHECK(chair.held);
    CHECK(
        chair.text ==
        "Cannot begin later: place 1 is taken from 07:56 until 08:16 (Cleo); place 2 is taken from "
        "08:10 until 08:30 (Bo); place 3 is taken from 07:56 until 08:16 (Dov); 10 minutes to "
        "dry; shot of \"The march\" at 08:45.");
    // every beginning from 07:51 to 08:15 is ruled out by the chairs, later ones by the shot
    const gp::WhyCause* taken = cause(chair.causes, gp::WhyFact::place_taken);
    REQUIRE(taken != nullptr);
    CHECK(taken->starts == std::vector<gp::Span>{{at("07:51"), at("08:16")}});
    CHECK(call.chain[1].scene == all.scene("march"));
    CHECK(call.chain[1].held);
  }

  TEST_CASE("a fourth chair: the same plan is held by nothing, and that is said") {
    const Planned all = chairs(4);
    const gp::WhyCall call = why(all, "ada").calls.at(0);
    CHECK_FALSE(call.held);
    // the fourth chair is free: at 08:15 at the latest, so called at 08:05
    CHECK(call.chain.at(0).latest == at("08:15"));
    CHECK(call.latest == at("08:05"));
    CHECK(call.chain.at(0).text ==
          "Could begin as late as 08:15, but not after that: 10 minutes to dry; shot of \"The "
          "march\" at 08:45.");
    CHECK(call.because.find("which could be as late as 08:15") != std::string::npos);
  }

  TEST_CASE("a step that could be some minutes later, but not enough for the next call") {
    Planned all = chairs();
    // Bo sits down two minutes later: Ada could begin at 07:52, and be called at 07:40 all the same
    all.step("bo", gp::ChainPart::on, 0).from = at("08:12");
    all.step("bo", gp::ChainPart::on, 0).until = at("08:32");
    all.wear("bo").from = at("08:12");
    all.recount();
    REQUIRE(all.broken().empty());
    const gp::WhyCall call = why(all, "ada").calls.at(0);
    CHECK(call.chain.at(0).latest == at("07:52"));
    CHECK_FALSE(call.chain.at(0).held);
    CHECK(call.held);  // the call itself
    CHECK(call.latest == call.stay.call);
  }

  TEST_CASE("the way counts where it is longer than the drying") {
    Planned all = chairs();
    // dries for 5 minutes, 6 to walk: Bo's coat ends at 08:30 and could begin 9 minutes later
    all.production.looks[all.look("guard")].steps[0].then_wait = gp::Minutes{5};
    const gp::WhyCall call = why(all, "bo").calls.at(0);
    CHECK(call.chain.at(0).latest == at("08:19"));
    CHECK(call.chain.at(0).causes.back().text == "6 minutes' way; shot of \"The march\" at 08:45");
  }

  TEST_CASE("who is not called is told why") {
    const Planned all = chairs();
    CHECK(why(all, "eve").not_needed ==
          std::vector<std::string>{"their answer is \"no\", and who says no is never planned"});
    CHECK(why(all, "finn").not_needed.size() == 1);
    CHECK(why(all, "finn").calls.empty());
    CHECK(why(all, "ada").not_needed.empty());
  }

  TEST_CASE("a shot: between what cannot be earlier and what cannot be later") {
    const Planned all = chairs();
    const gp::WhyScene found = gp::why_scene(all.production, all.plan, {}, all.scene("march"));
    // Bo's coat is dry at 08:40: five minutes earlier at most; the day wraps when the shot ends
    CHECK(found.earlier.room == gp::Minutes{5});
    REQUIRE(found.earlier.causes.size() == 1);
    CHECK(found.earlier.causes[0].text == "Bo's look (Guard) is dry at 08:40");
    CHECK(found.later.room == gp::Minutes{0});
    CHECK(found.text ==
          "It could be 5 minutes earlier with its cast and crew, but no more: Bo's look (Guard) is "
          "dry at 08:40. It cannot be later: the day must wrap by 09:15.");
    const gp::WhyScene lost = gp::why_scene(all.production, all.plan, {}, all.scene("storm"));
    CHECK_FALSE(lost.day.valid());
    CHECK(lost.not_filmed == "It takes 300 minutes and the day ends.");
  }

  TEST_CASE("a station: from when to when it is busy, for whom, and how full it is") {
    const Planned all = chairs();
    const gp::WhyStation found =
        gp::why_station(all.production, all.plan, {}, all.station("paint"));
    REQUIRE(found.days.size() == 1);
    REQUIRE(found.days[0].busy.size() == 1);
    const gp::WhyBusy& busy = found.days[0].busy[0];
    CHECK(busy.time == gp::Span{at("07:50"), at("08:30")});
    CHECK(busy.most == 3);
    // Ada 07:50-08:10, Cleo and Dov 07:56-08:16, Bo 08:10-08:30: three at once from 07:56 to 08:16
    CHECK(busy.all_taken == gp::Minutes{20});
    CHECK(busy.people == 4);
    CHECK(busy.steps == 4);
    // Ada is held; Cleo and Dov could begin at 08:15, in each other's chair or their own; Bo too
    CHECK(busy.held == 1);
    REQUIRE(busy.what_for.size() == 1);
    CHECK(busy.what_for[0].people == 4);
    CHECK(busy.what_for[0].at == at("08:45"));
    const gp::WhyStation spare =
        gp::why_station(all.production, all.plan, {}, all.station("spare"));
    CHECK(spare.text == "Spare is not in use: no look has a step there.");
  }

  TEST_CASE("the JSON says what the sentences say, with the ids of the file") {
    const Planned all = chairs();
    const auto json = nlohmann::json::parse(gp::write_why(all.production, why(all, "ada")));
    CHECK(json["greasepaint_why"] == 1);
    CHECK(json["person"] == "ada");
    const auto& call = json["calls"][0];
    CHECK(call["date"] == "2027-04-17");
    CHECK(call["call"] == "07:40");
    CHECK(call["held"] == true);
    const auto& link = call["chain"][0];
    CHECK(link["kind"] == "own-step");
    CHECK(link["station"] == "paint");
    CHECK(link["place"] == 2);
    CHECK(link["latest"] == "07:50");
    CHECK(link["causes"][0]["fact"] == "place-taken");
    CHECK(link["causes"][0]["place"] == 1);
    CHECK(link["causes"][0]["moment"] == "08:16");
    CHECK(link["causes"][0]["starts"][0] == "07:51-08:16");
    CHECK(link["causes"][3]["fact"] == "first-scene");
    CHECK(link["causes"][3]["scene"] == "march");
    CHECK_FALSE(call.contains("let_later"));  // it was not asked for
    const auto scene = nlohmann::json::parse(gp::write_why(
        all.production, gp::why_scene(all.production, all.plan, {}, all.scene("march"))));
    CHECK(scene["earlier"]["room"] == 5);
    CHECK(scene["later"]["causes"][0]["fact"] == "wrap-by");
    const auto station = nlohmann::json::parse(gp::write_why(
        all.production, gp::why_station(all.production, all.plan, {}, all.station("paint"))));
    CHECK(station["days"][0]["busy"][0]["all_taken"] == 20);
  }

  TEST_CASE(
      "times are those that the clock on the wall shows, after midnight and on a night when the "
      "clocks change") {
    // Dublin, 28 March 2027: 01:00 becomes 02:00. Midnight and half an hour is 00:30, and half an
    // hour of work later the clock shows 02:00. (IANA zone database, Europe/Dublin.)
    Planned all;
    all.production = gp::test::production_of(R"({"greasepaint": 1, "title": "Night",
      "zone": "Europe/Dublin", "sign_in_minutes": 0, "round_to": 1,
      "days": [{"date": "2027-03-27"}], "people": [{"id": "ada", "name": "Ada"}],
      "roles": [{"id": "owl", "person": "ada", "look": "owl"}],
      "looks": [{"id": "owl", "steps": [{"at": "chair", "minutes": 30, "then_wait": 15}]}],
      "stations": [{"id": "chair"}],
      "scenes": [{"id": "hoot", "shoot_minutes": 10, "cast": [{"role": "owl"}]}]})");
    // 24:30 to 26:00 on the wall are 30 minutes; 15 to dry: the shot at 26:15
    all.plan = gp::test::plan_of(R"({"greasepaint_plan": 1, "title": "Night", "days": [{
      "date": "2027-03-27", "first_shot": "26:15", "wrap": "26:25",
      "scenes": [{"scene": "hoot", "unit": "main", "set_at": "26:15", "shoot_at": "26:15",
                  "until": "26:25", "cast": [{"role": "owl", "people": ["ada"]}], "crew": []}],
      "wears": [{"person": "ada", "look": "owl", "from": "24:30", "until": "26:25", "items": []}],
      "steps": [{"person": "ada", "look": "owl", "part": "on", "step": 0, "station": "chair",
                 "place": 1, "from": "24:30", "until": "26:00"}],
      "ready": [], "meals": [], "people": []}], "unfilled": [], "not_filmed": [], "notes": [],
      "totals": {"on_site": 0, "weighted_on_site": 0, "waiting": 0}})",
                                 all.production);
    all.recount();
    REQUIRE(all.broken().empty());
    const gp::WhyCall call = why(all, "ada").calls.at(0);
    CHECK(call.chain.at(0).held);
    CHECK(call.because.starts_with(
        "Call 24:30, because in place 1 of chair at 24:30; 15 minutes to dry; shot of \"hoot\" at "
        "26:15"));
  }

  TEST_CASE(
      "what is asked about: ids before names, the nearest one on a mistake, kinds where it is "
      "doubtful") {
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "Names",
      "days": [{"date": "2027-04-17"}],
      "people": [{"id": "bo", "name": "Bo Lind"}, {"id": "paint"}, {"id": "li", "name": "Same"},
                 {"id": "mo", "name": "Same"}],
      "stations": [{"id": "paint", "name": "Face paint"}],
      "scenes": [{"id": "march", "name": "The march"}, {"id": "x", "name": "bo"}]})");
    const auto asked = [&](const std::string& word) { return gp::find_why_target(film, word); };
    const auto is = [&](const std::string& word, gp::WhyTarget target) {
      const auto found = asked(word);
      return std::holds_alternative<gp::WhyTarget>(found) &&
             std::get<gp::WhyTarget>(found) == target;
    };
    CHECK(is("bo", gp::PersonId(0)));  // an id counts before another's name
    CHECK(is("Bo Lind", gp::PersonId(0)));
    CHECK(is("The march", gp::SceneId(0)));
    CHECK(is("Face paint", gp::StationId(0)));
    CHECK(is("station:paint", gp::StationId(0)));
    CHECK(is("person:paint", gp::PersonId(1)));
    CHECK(is("scene:bo", gp::SceneId(1)));
    CHECK(std::get<std::string>(asked("paint")) ==
          "\"paint\" names several; ask for person:paint or station:paint");
    CHECK(std::get<std::string>(asked("Same")) ==
          "\"Same\" names several; ask for person:li or person:mo");
    CHECK(std::get<std::string>(asked("marhc")) ==
          "no person, scene or station is called \"marhc\"; nearest: \"march\"");
    CHECK(std::get<std::string>(asked("station:marhc")) ==
          "no station is called \"station:marhc\"; ask with an id or a name of the production");
  }

  TEST_CASE(
      "what would let them come later was planned and is right; with a fourth chair it is one") {
    // Two chairs for four people who all need 20 minutes and 10 to dry before 08:45, shot at 08:45
    // at the earliest: the first two cannot begin after 07:55, with four chairs all begin at 08:15.
    const Planned all = chairs(2 + 1);
    gp::Production film = all.production;
    film.stations[all.station("paint")].places = 2;
    film.days[gp::DayId(0)].first_shot = gp::WallTime{8 * 60 + 45};
    gp::Wishes wishes;
    wishes.effort = 0.2;
    gp::Stop stop;
    const gp::Plan plan = gp::make_plan(film, wishes, stop);
    REQUIRE(gp::check(film, plan).empty());
    const gp::Stay& first = plan.days[0].people.front();
    const gp::WhyPerson found = gp::why_person(film, plan, {}, first.person);
    int told = 0;
    int last = 0;
    const gp::WhyReliefs reliefs =
        gp::find_reliefs(film, plan, found.calls.at(0), wishes, stop, [&](int tried, int of) {
          ++told;
          last = tried;
          CHECK(tried < of);
        });
    CHECK(reliefs.tried);
    CHECK_FALSE(reliefs.stopped);
    CHECK(reliefs.changes == last);
    CHECK(told == last + 1);
    REQUIRE_FALSE(reliefs.found.empty());
    bool chair = false;
    for (const gp::WhyRelief& relief : reliefs.found) {
      CHECK(relief.later > gp::Minutes{0});
      CHECK(relief.call == first.call + relief.later);
      chair = chair || relief.change.find("Face paint") != std::string::npos;
    }
    CHECK(chair);
  }

  TEST_CASE("asked to stop, the search for what would help ends and says so") {
    const Planned all = chairs();
    const std::atomic<bool> requested = true;
    gp::Stop stop(std::nullopt, &requested);
    const gp::WhyReliefs reliefs =
        gp::find_reliefs(all.production, all.plan, why(all, "ada").calls.at(0), {}, stop);
    CHECK(reliefs.stopped);
    CHECK(reliefs.changes == 0);
    CHECK(reliefs.found.empty());
  }
}
