// Changes: their words, what they do, and that what comes out is a production that can be read.
#include "explain/whatif/apply.h"
#include "explain/whatif/change.h"
#include "model/read_production.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <string>
#include <variant>
#include <vector>

#include <doctest/doctest.h>

using gp::Minutes;
using gp::whatif::Change;
using gp::whatif::Changed;
using gp::whatif::Mistake;

namespace {

const char* const kFilm = R"({
  "greasepaint": 1, "title": "The Bell", "zone": "UTC",
  "days": [{"date": "2027-05-01", "nobody_before": "07:00", "first_shot": "09:30", "wrap_by": "18:00"},
           {"date": "2027-05-02"}],
  "people": [{"id": "ana", "name": "Ana", "can": ["paint"]},
             {"id": "bo", "free": ["2027-05-01 10:00-12:00", "2027-05-02"], "can": ["dance"]},
             {"id": "cleo", "answer": "maybe", "turnout": 0.5}, {"id": "dag"}],
  "roles": [{"id": "ringer", "person": "bo", "look": "soot"},
            {"id": "guard", "name": "Guards", "crowd": true, "look": "soot", "from": ["bo", "cleo", "dag"], "needs": ["dance"]},
            {"id": "crowd", "crowd": true}],
  "looks": [{"id": "soot", "name": "Soot", "steps": [{"at": "rail", "minutes": 5}, {"at": "paint", "minutes": 15, "by": "paint"}],
             "off": [{"at": "sinks", "minutes": 8}], "items": ["helmet"]}],
  "stations": [{"id": "rail"}, {"id": "paint", "name": "Face paint", "places": 2, "open": "07:30-16:00", "staff": ["ana"]},
               {"id": "sinks", "places": 3}],
  "items": [{"id": "helmet", "count": 4}],
  "units": [{"id": "main", "crew": [{"job": "camera", "from": ["dag"], "needs": ["camera"]}]}],
  "scenes": [{"id": "bell", "shoot_minutes": 30, "cast": [{"role": "ringer"}, {"role": "guard", "people": 2}]},
             {"id": "rope", "shoot_minutes": 20, "cast": [{"role": "ringer"}], "after": ["bell"],
              "between": "10:00-16:00", "day": "2027-05-01"},
             {"id": "street", "shoot_minutes": 15, "cast": [{"role": "crowd", "people": 2}], "after": ["rope", "bell"],
              "crew": [{"job": "tide watch"}]}]
})";

gp::Production film() {
  return gp::test::production_of(kFilm);
}

Change right(const gp::Production& production, const std::string& text) {
  auto read = gp::whatif::read_change(production, text);
  if (const auto* mistake = std::get_if<Mistake>(&read)) FAIL(text << ": " << mistake->text());
  return std::get<Change>(read);
}

Changed done(const gp::Production& production, const std::vector<std::string>& texts) {
  std::vector<Change> changes;
  for (const std::string& text : texts) changes.push_back(right(production, text));
  auto applied = gp::whatif::apply(production, changes);
  if (const auto* mistake = std::get_if<Mistake>(&applied)) FAIL(mistake->text());
  return std::get<Changed>(applied);
}

gp::Production with(const std::string& text) {
  return done(film(), {text}).production;
}

Mistake wrong(const std::string& text) {
  auto read = gp::whatif::read_change(film(), text);
  REQUIRE_MESSAGE(std::holds_alternative<Mistake>(read), text);
  return std::get<Mistake>(read);
}

gp::PersonId person(std::size_t number) {
  return gp::PersonId(number);
}
const gp::StationId kPaint(1);
const gp::DayId kFirst(0);
const gp::DayId kSecond(1);

}  // namespace

TEST_SUITE("explain/whatif/change") {
  TEST_CASE("chairs and items go up, down and to a number") {
    CHECK(with("chairs paint +1").stations[kPaint].places == 3);
    CHECK(with("places paint -1").stations[kPaint].places == 1);
    CHECK(with("Chairs paint =5").stations[kPaint].places == 5);
    CHECK(with("chairs paint 5").stations[kPaint].places == 5);
    CHECK(with("items helmet +2").items[gp::ItemId(0)].count == 6);
  }

  TEST_CASE("a helper at a station has its skills and is of its staff") {
    const Changed changed = done(film(), {"helper paint"});
    REQUIRE(changed.new_people == std::vector{person(4)});
    const gp::Person& friendly = changed.production.people[person(4)];
    CHECK(friendly.id == "one-more-friend");
    CHECK(friendly.name == "one more friend");
    CHECK(friendly.can == gp::Tags{"paint"});
    CHECK(!friendly.free);
    CHECK(*changed.production.stations[kPaint].staff == std::vector{person(0), person(4)});
  }

  TEST_CASE("a friend for a crowd is among those it may be taken from and has what it needs") {
    const Changed changed = done(film(), {"friend guard +2"});
    REQUIRE(changed.new_people == std::vector{person(4), person(5)});
    CHECK(changed.production.people[person(5)].id == "one-more-friend-2");
    CHECK(changed.production.people[person(5)].name == "one more friend (2)");
    CHECK(changed.production.people[person(5)].can == gp::Tags{"dance"});
    const auto& from = *changed.production.roles[gp::RoleId(1)].from;
    CHECK(from == std::vector{person(1), person(2), person(3), person(4), person(5)});
  }

  TEST_CASE("a friend for a job joins its list; jobs have blanks; a friend is for nothing too") {
    const gp::Production camera = with("friend camera");
    CHECK(camera.units[gp::UnitId(0)].crew[0].from == std::vector{person(3), person(4)});
    CHECK(camera.people[person(4)].can == gp::Tags{"camera"});
    // nobody is listed for the tide watch: anybody may, and that stays so
    const gp::Production tide = with("friend tide watch");
    CHECK(tide.scenes[gp::SceneId(2)].crew[0].from.empty());
    CHECK(tide.people[person(4)].can.empty());
    CHECK(with("friend").people.size() == 5);
  }

  TEST_CASE("a new friend's id and name are nobody else's") {
    gp::Production taken = film();
    gp::Person same;
    same.id = "one-more-friend";
    taken.people.add(same);
    const Changed changed = done(taken, {"friend", "helper paint"});
    CHECK(changed.production.people[person(5)].id == "one-more-friend-2");
    CHECK(changed.production.people[person(6)].id == "one-more-friend-3");
  }

  TEST_CASE("people come, stay away, learn") {
    CHECK(with("without ana").people[person(0)].answer == gp::Answer::no);
    const gp::Person cleo = with("with cleo").people[person(2)];
    CHECK(cleo.answer == gp::Answer::yes);
    CHECK(!cleo.turnout);
    CHECK(with("can dag face paint").people[person(3)].can == gp::Tags{"face paint"});
    CHECK(with("can ana paint").people[person(0)].can == gp::Tags{"paint"});
  }

  TEST_CASE("hours people are free: set, widened at either end, all day, of one day") {
    const auto free_of = [](const std::string& text) {
      std::string all;
      const gp::Person bo = with(text).people[person(1)];
      if (!bo.free) return std::string("always");
      for (const gp::FreeTime& time : *bo.free) {
        all += std::to_string(static_cast<unsigned>(time.date.day()));
        if (time.hours) {
          all += ":" + std::to_string(time.hours->from.minutes) + "-" +
                 std::to_string(time.hours->until.minutes);
        }
        all += " ";
      }
      return all;
    };
    // 10:00 is 600, 12:00 is 720, 09:00 is 540, 18:00 is 1080
    CHECK(free_of("free bo 09:00-18:00") == "1:540-1080 2:540-1080 ");
    CHECK(free_of("free bo 9:00-18:00 2027-05-01") == "1:540-1080 2 ");
    CHECK(free_of("free bo 2027-05-02 09:00-18:00") == "1:600-720 2:540-1080 ");
    CHECK(free_of("free bo 30 earlier") == "1:570-720 2 ");
    CHECK(free_of("free bo later 45") == "1:600-765 2 ");
    CHECK(free_of("free bo always") == "always");
    CHECK(free_of("free bo 2027-05-01") == "1 2 ");
    // who is free all days keeps the others
    const gp::Person dag = with("free dag 09:00-10:00 2027-05-02").people[person(3)];
    REQUIRE(dag.free->size() == 2);
    CHECK(!(*dag.free)[0].hours);
    CHECK((*dag.free)[1].hours->from.minutes == 540);
  }

  TEST_CASE("a station opens earlier, later, at given hours, always") {
    const auto open_of = [](const std::string& text) {
      const auto open = with(text).stations[kPaint].open;
      return open ? std::to_string(open->from.minutes) + "-" + std::to_string(open->until.minutes)
                  : "always";
    };
    // 07:30 is 450, 16:00 is 960
    CHECK(open_of("open paint 30 earlier") == "420-960");
    CHECK(open_of("open paint 30 later") == "450-990");
    CHECK(open_of("open paint 08:00-09:00") == "480-540");
    CHECK(open_of("open paint always") == "always");
  }

  TEST_CASE("the day's times move, of one day or of every day that has them") {
    CHECK(with("first-shot 10:00").days[kFirst].first_shot->minutes == 600);
    CHECK(with("first-shot 10:00").days[kSecond].first_shot->minutes == 600);
    CHECK(!with("first-shot +30").days[kSecond].first_shot);
    CHECK(with("first-shot +30").days[kFirst].first_shot->minutes == 600);
    CHECK(with("first-shot 30 earlier").days[kFirst].first_shot->minutes == 540);
    CHECK(with("wrap 19:00 2027-05-01").days[kFirst].wrap_by->minutes == 1140);
    CHECK(!with("wrap 19:00 2027-05-01").days[kSecond].wrap_by);
    CHECK(!with("wrap none").days[kFirst].wrap_by);
    CHECK(with("nobody-before -60").days[kFirst].nobody_before.minutes == 360);
    CHECK(with("nobody-before -60").days[kSecond].nobody_before.minutes == 0);
  }

  TEST_CASE("minutes off a chain are shared out by the length of its steps") {
    const auto steps = [](const std::string& text) {
      const gp::Look look = with(text).looks[gp::LookId(0)];
      return std::vector{look.steps[0].minutes.count(),
                         look.steps[1].minutes.count(),
                         look.off[0].minutes.count()};
    };
    // 5 + 15: of 4 minutes 1 and 3; of 5 the shares are 1.25 and 3.75, the minute left to the
    // larger fraction
    CHECK(steps("quicker soot 4") == std::vector{4, 12, 8});
    CHECK(steps("quicker soot 5") == std::vector{4, 11, 8});
    // 20 % of 20 is 4; 10 % is 2: 0.5 and 1.5, so 1 and then the first of equals: 1 and 1
    CHECK(steps("quicker soot 20%") == std::vector{4, 12, 8});
    CHECK(steps("quicker soot 10%") == std::vector{4, 14, 8});
    CHECK(steps("slower soot 4") == std::vector{6, 18, 8});
    CHECK(steps("quicker soot off 3") == std::vector{5, 15, 5});
    // 1 % of 8 is less than a minute: one minute all the same
    CHECK(steps("quicker soot off 1%") == std::vector{5, 15, 7});
  }

  TEST_CASE("scenes: shorter, longer, at any time, with fewer heads, dropped") {
    CHECK(with("shorter bell 10").scenes[gp::SceneId(0)].shoot_minutes == Minutes{20});
    CHECK(with("longer bell 10").scenes[gp::SceneId(0)].shoot_minutes == Minutes{40});
    const gp::Scene rope = with("any-time rope").scenes[gp::SceneId(1)];
    CHECK(!rope.between);
    CHECK(!rope.day.valid());
    CHECK(rope.after.size() == 1);
    CHECK(with("heads bell guard -1").scenes[gp::SceneId(0)].cast[1].people == 1);
    const Changed dropped = done(film(), {"drop rope"});
    REQUIRE(dropped.production.scenes.size() == 2);
    CHECK(!dropped.scene_now[gp::SceneId(1)].valid());
    CHECK(dropped.scene_now[gp::SceneId(2)] == gp::SceneId(1));
    // the street stood after the rope and the bell: the bell is left
    CHECK(dropped.production.scenes[gp::SceneId(1)].after == std::vector{gp::SceneId(0)});
  }

  TEST_CASE("several changes at once, a dropped scene among them") {
    const Changed all =
        done(film(), {"drop bell", "shorter street 5", "chairs paint +1", "chairs paint +1"});
    CHECK(all.production.scenes.size() == 2);
    CHECK(all.production.scenes[gp::SceneId(1)].shoot_minutes == Minutes{10});
    CHECK(all.production.stations[kPaint].places == 4);
  }

  TEST_CASE("a change is said again in the words it was read from") {
    const gp::Production production = film();
    for (const char* const text :
         {"chairs paint +1",    "items helmet =3",     "friend",
          "friend guard",       "friend paint +2",     "without ana",
          "with cleo",          "can dag paint",       "free bo 09:00-18:00 2027-05-01",
          "free bo 30 earlier", "free bo always",      "open paint 30 later",
          "first-shot 10:00",   "wrap +30 2027-05-01", "wrap none",
          "nobody-before -60",  "quicker soot 5",      "slower soot off 20%",
          "shorter bell 10",    "longer bell 10",      "drop rope",
          "any-time rope",      "heads bell guard -1"}) {
      const auto again = gp::whatif::written(production, right(production, text));
      REQUIRE_MESSAGE(again, text);
      CHECK(*again == text);
    }
  }

  TEST_CASE("plain words for people") {
    const gp::Production production = film();
    const auto told = [&](const std::string& text) {
      return gp::whatif::describe(production, right(production, text));
    };
    CHECK(told("chairs paint +1") == "1 chair more at Face paint (3)");
    CHECK(told("chairs paint 5") == "5 chairs at Face paint instead of 2");
    CHECK(told("items helmet -2") == "helmet: 2 pieces fewer (2)");
    CHECK(told("helper paint") == "one more friend for Face paint (can paint)");
    CHECK(told("friend guard +2") == "2 more friends for Guards (can dance)");
    CHECK(told("friend") == "one more friend");
    CHECK(told("without ana") == "Ana does not come");
    CHECK(told("free bo 30 earlier") == "bo is free 30 minutes earlier");
    CHECK(told("open paint 30 later") == "Face paint is open 30 minutes longer");
    CHECK(told("wrap +30 2027-05-01") == "wrap 30 minutes later on 2027-05-01");
    CHECK(told("first-shot 10:00") == "first shot 10:00");
    CHECK(told("quicker soot 20%") == "putting on Soot takes 20 % less");
    CHECK(told("heads bell guard -1") == "Guards in bell: 1 head fewer (1)");
  }

  TEST_CASE("a word that does not fit is answered with what would, and the nearest") {
    CHECK(wrong("chair paint +1").nearest == "chairs");
    CHECK(wrong("quiker soot 5").nearest == "quicker");
    CHECK(wrong("faster soot 5").nearest == "quicker");
    CHECK(
        wrong("").expected.starts_with("a change that begins with one of: chairs, places, items"));
    CHECK(wrong("chairs pant +1").text() ==
          "found \"pant\", expected the id of a station: rail, paint or sinks; nearest: \"paint\"");
    CHECK(wrong("chairs paint").expected ==
          "how many, such as +1, -1 or =3 after \"chairs paint\"");
    CHECK(wrong("chairs paint one").found == "one");
    CHECK(wrong("chairs paint +0").found == "+0");
    CHECK(wrong("chairs paint +1 now").text() ==
          "found \"now\", expected nothing more after \"chairs paint +1\"");
    CHECK(wrong("items helmt +1").nearest == "helmet");
    CHECK(wrong("without anna").nearest == "ana");
    CHECK(wrong("friend guards").nearest == "guard");
    CHECK(wrong("friend ringer").expected ==
          "a role that the tool casts; this part is given to bo");
    CHECK(wrong("helper").found == "helper");
    CHECK(wrong("free bo sometimes").expected.starts_with("a span such as"));
    CHECK(wrong("free bo 18:00-09:00").nearest == "18:00-33:00");
    CHECK(wrong("free bo 30").expected == "\"earlier\" or \"later\" after the minutes");
    CHECK(wrong("free dag 30 earlier").expected.starts_with("dag has no hours to widen"));
    CHECK(wrong("free bo 09:00-10:00 2027-05-03").expected ==
          "a day of the production: 2027-05-01 or 2027-05-02");
    CHECK(wrong("open rail 30 earlier").expected.starts_with("a station that is not always open"));
    CHECK(wrong("first-shot soon").expected.starts_with("a time such as 10:00"));
    CHECK(wrong("first-shot +30 2027-05-02").expected.starts_with("a time of the clock"));
    CHECK(wrong("wrap 30").expected.starts_with("a time such as"));
    CHECK(wrong("quicker soot 20").expected ==
          "fewer minutes than the 20 that putting on soot takes");
    CHECK(wrong("quicker soot 100%").expected.starts_with("minutes or per cent"));
    CHECK(wrong("shorter bell 30").expected == "fewer minutes than the 30 that the shot takes");
    CHECK(wrong("drop bel").nearest == "bell");
    CHECK(wrong("heads bell crowd -1").expected == "the id of a crowd of that scene: guard");
  }

  TEST_CASE("a change that leaves no right production is told, with the fault it would make") {
    const gp::Production production = film();
    const auto refused = [&](const std::string& text) {
      auto applied = gp::whatif::apply(production, {right(production, text)});
      REQUIRE_MESSAGE(std::holds_alternative<Mistake>(applied), text);
      return std::get<Mistake>(applied);
    };
    CHECK(refused("chairs paint -2").found == "chairs paint -2");
    CHECK(refused("chairs paint -2").expected.find("stations[1].places: 0") != std::string::npos);
    CHECK(refused("items helmet =0").expected.find("items[0].count") != std::string::npos);
    CHECK(refused("wrap 08:00 2027-05-01").expected.find("wrap_by") != std::string::npos);
    CHECK(refused("longer bell 1440").expected.find("scenes[0].shoot_minutes") !=
          std::string::npos);
  }

  TEST_CASE("any change of any production leaves one that is read back the same") {
    int made = 0;
    for (std::uint64_t i = 0; i < 60; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production production = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::small()));
      std::vector<std::string> texts = {"friend",
                                        "friend +3",
                                        "wrap none",
                                        "first-shot none",
                                        "first-shot +30",
                                        "wrap +30",
                                        "nobody-before -30"};
      for (const auto& row : production.stations) {
        for (const char* how : {"chairs ", "helper ", "open "}) {
          texts.push_back(how + row.id + (*how == 'c' ? " +1" : *how == 'o' ? " 30 earlier" : ""));
        }
      }
      for (const auto& row : production.items) texts.push_back("items " + row.id + " +1");
      for (const auto& row : production.roles) {
        if (!row.person.valid()) texts.push_back("friend " + row.id);
      }
      for (const auto& row : production.people) {
        texts.push_back("without " + row.id);
        texts.push_back("with " + row.id);
        texts.push_back("can " + row.id + " whistle");
        texts.push_back("free " + row.id + " 30 later");
        texts.push_back("free " + row.id + " 05:00-30:00");
      }
      for (const auto& row : production.looks) {
        texts.push_back("quicker " + row.id + " 10%");
        texts.push_back("quicker " + row.id + " off 10%");
        texts.push_back("slower " + row.id + " 5");
      }
      for (const auto& row : production.scenes) {
        texts.push_back("drop " + row.id);
        texts.push_back("any-time " + row.id);
        texts.push_back("longer " + row.id + " 5");
      }
      std::vector<Change> all;
      for (const std::string& text : texts) {
        const auto read = gp::whatif::read_change(production, text);
        const auto* change = std::get_if<Change>(&read);
        if (change == nullptr) continue;  // nothing there to widen or to quicken
        ++made;
        CAPTURE(text);
        CHECK(gp::whatif::written(production, *change).has_value());
        CHECK(!gp::whatif::describe(production, *change).empty());
        const auto applied = gp::whatif::apply(production, {*change});
        const auto* mistake = std::get_if<Mistake>(&applied);
        REQUIRE_MESSAGE(mistake == nullptr, mistake->text());
        const gp::Production& now = std::get<Changed>(applied).production;
        auto again = gp::read_production(gp::write_production(now), gp::PeopleListed::still_coming);
        REQUIRE(std::holds_alternative<gp::Production>(again));
        CHECK(std::get<gp::Production>(again) == now);
        if (!std::holds_alternative<gp::whatif::Drop>(*change)) all.push_back(*change);
      }
      const auto applied = gp::whatif::apply(production, all);
      const auto* mistake = std::get_if<Mistake>(&applied);
      REQUIRE_MESSAGE(mistake == nullptr, mistake->text());
    }
    CHECK(made > 1000);
  }
}
