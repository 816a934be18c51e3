#include "support/builder.h"

#include <set>

#include <doctest/doctest.h>

using gp::check;
using gp::Minutes;
using gp::test::at;
using gp::test::lamp;
using gp::test::Planned;
using Rules = std::set<int>;

namespace {

/// A scene's row moved as a whole.
void move(gp::PlannedScene& scene, int minutes) {
  scene.set_at += Minutes{minutes};
  scene.shoot_at += Minutes{minutes};
  scene.until += Minutes{minutes};
}

}  // namespace

TEST_SUITE("model/check: rule 1, scenes") {
  TEST_CASE("the two plans worked out by hand break no rule") {
    const Planned with_everything = lamp();
    CHECK(check(with_everything.production, with_everything.plan).empty());
    const Planned example = gp::test::kettle();
    CHECK(check(example.production, example.plan).empty());
  }

  TEST_CASE("a scene that shoots a minute less than it needs") {
    Planned it = lamp();
    it.planned("wick").until -= Minutes{1};
    it.recount();
    CHECK(it.broken() == Rules{1});
    const auto findings = check(it.production, it.plan);
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].where == "wick");
    CHECK(findings[0].what == "shoots 19 minutes, not 20");
  }

  TEST_CASE("a set-up a minute too short, and one longer than a reset on the same set") {
    Planned it = lamp();
    it.planned("speech").set_at += Minutes{1};
    it.recount();
    CHECK(it.broken() == Rules{1});

    // salute follows march on the slipway: 3 minutes of reset; 4 minutes overlap march by one
    Planned reset = lamp();
    reset.planned("salute").set_at -= Minutes{1};
    reset.recount();
    CHECK(reset.broken() == Rules{1, 2, 3});
  }

  TEST_CASE("a reset is owed only right after a scene of the same set") {
    Planned it = lamp();
    // speech gets the slipway's name, but bow comes after it; bow has no reset and no set-up
    it.production.scenes[it.scene("bow")].set = "slipway";
    CHECK(it.broken().empty());
    it.production.scenes[it.scene("bow")].set_minutes = Minutes{3};
    CHECK(it.broken() == Rules{1});
    it.production.scenes[it.scene("speech")].set = "slipway";
    // now salute, speech and bow are one set: speech has 10 minutes and no reset given: 0
    CHECK(it.broken() == Rules{1});
    it.production.scenes[it.scene("speech")].reset_minutes = Minutes{10};
    CHECK(it.broken().empty());
  }

  TEST_CASE("a scene that is neither filmed nor given up") {
    Planned it = lamp();
    it.plan.not_filmed.clear();
    CHECK(it.broken() == Rules{1});
  }

  TEST_CASE("a scene given up without a reason") {
    Planned it = lamp();
    it.plan.not_filmed.at(0).why.clear();
    CHECK(it.broken() == Rules{1});
  }

  TEST_CASE("a scene filmed and given up") {
    Planned it = lamp();
    it.plan.not_filmed.push_back({it.scene("wick"), "rain"});
    CHECK(it.broken() == Rules{1});
  }

  TEST_CASE("a scene filmed on two days") {
    Planned it = lamp();
    gp::DayPlan second;
    second.day = gp::DayId(1);
    gp::PlannedScene again = it.planned("wick");
    second.scenes.push_back(again);
    it.plan.days.push_back(second);
    it.recount();
    CHECK(it.broken() == Rules{1});
  }

  TEST_CASE("a day listed twice") {
    Planned it = lamp();
    gp::DayPlan empty;
    empty.day = it.day().day;
    it.plan.days.push_back(empty);
    CHECK(it.broken() == Rules{1});
  }

  TEST_CASE("an id that the production does not have is told, and nothing else") {
    Planned it = lamp();
    it.planned("wick").scene = gp::SceneId(99);
    CHECK(it.broken() == Rules{1});
    Planned person = lamp();
    person.crew("march", "light").at(0) = gp::PersonId();
    CHECK(person.broken() == Rules{9});
  }
}

TEST_SUITE("model/check: rule 2, units") {
  TEST_CASE("a scene filmed by another unit") {
    Planned it = lamp();
    it.planned("wick").unit = it.unit("main");
    CHECK(it.broken() == Rules{2});
  }

  TEST_CASE("two scenes of a unit overlap by a minute") {
    Planned it = lamp();
    // bow sets up at 11:28, speech ends at 11:14: no overlap; so speech moves to 11:20-11:30
    it.production.scenes[it.scene("bow")].cast.clear();
    it.planned("bow").cast.clear();
    it.planned("bow").crew.clear();
    it.production.units[it.unit("main")].crew.clear();
    for (const char* scene : {"march", "salute", "speech"}) {
      auto& crew = it.planned(scene).crew;
      std::erase_if(crew, [](const gp::CrewEntry& entry) { return entry.job == "camera"; });
    }
    it.day().meals.clear();
    it.production.days[it.day().day].meals.clear();
    it.day().wears.pop_back();  // the keeper's
    move(it.planned("bow"), -15);
    it.recount();
    REQUIRE(it.broken().empty());  // 11:14 right after speech, at the same place
    move(it.planned("bow"), -1);
    it.recount();
    CHECK(it.broken() == Rules{2});
  }

  TEST_CASE("no time for the unit's way") {
    // salute at the beach ends at 10:43, the way takes 6 minutes, speech may set up at 10:49
    Planned it = lamp();
    it.production.units[it.unit("main")].crew.clear();
    for (const char* scene : {"march", "salute", "speech", "bow"}) {
      auto& crew = it.planned(scene).crew;
      std::erase_if(crew, [](const gp::CrewEntry& entry) { return entry.job == "camera"; });
    }
    it.meal("tea").people = {it.person("bo")};
    it.recount();
    REQUIRE(it.broken().empty());
    move(it.planned("speech"), -1);
    it.recount();
    CHECK(it.broken() == Rules{2});
  }
}

TEST_SUITE("model/check: rule 4, windows of scenes") {
  TEST_CASE(
      "on another day, before its hour, outside its window, too early or too late in the day") {
    Planned day = lamp();
    day.production.scenes[day.scene("speech")].day = gp::DayId(1);
    CHECK(day.broken() == Rules{4});

    Planned hour = lamp();
    hour.production.scenes[hour.scene("wick")].at = gp::WallTime{10 * 60 + 6};
    CHECK(hour.broken() == Rules{4});

    Planned window = lamp();
    // salute shoots 10:33-10:43: a window to 10:43 covers it, one to 10:42 does not
    auto& between = window.production.scenes[window.scene("salute")].between;
    between->until = gp::WallTime{10 * 60 + 43};
    CHECK(window.broken().empty());
    between->until = gp::WallTime{10 * 60 + 42};
    CHECK(window.broken() == Rules{4});
    // the set-up may lie outside of it: only the shot counts
    *between = {gp::WallTime{10 * 60 + 33}, gp::WallTime{10 * 60 + 43}};
    CHECK(window.broken().empty());
    between->from = gp::WallTime{10 * 60 + 34};
    CHECK(window.broken() == Rules{4});

    Planned first = lamp();
    first.production.days[gp::DayId(0)].first_shot = gp::WallTime{10 * 60 + 1};
    CHECK(first.broken() == Rules{4});

    Planned last = lamp();
    last.production.days[gp::DayId(0)].wrap_by = gp::WallTime{11 * 60 + 39};
    CHECK(last.broken().empty());
    last.production.days[gp::DayId(0)].wrap_by = gp::WallTime{11 * 60 + 38};
    CHECK(last.broken() == Rules{4});
  }

  TEST_CASE("a scene before the one that it comes after") {
    Planned it = lamp();
    // bow shoots at 11:29, speech has ended at 11:14: in order; the other way round not
    it.production.scenes[it.scene("bow")].after = {it.scene("speech")};
    CHECK(it.broken().empty());
    it.production.scenes[it.scene("bow")].after.clear();
    it.production.scenes[it.scene("speech")].after = {it.scene("bow")};
    CHECK(it.broken() == Rules{4});
    // wick overlaps march: neither comes after the other
    Planned overlap = lamp();
    overlap.production.scenes[overlap.scene("wick")].after = {overlap.scene("march")};
    CHECK(overlap.broken() == Rules{4});
    // what is not filmed holds nobody up
    Planned lost = lamp();
    lost.production.scenes[lost.scene("wick")].after = {lost.scene("storm")};
    CHECK(lost.broken().empty());
  }
}

TEST_SUITE("model/check: rule 5, light") {
  TEST_CASE("a shot in another light than it needs") {
    Planned it = lamp();
    for (const gp::Light light : {gp::Light::golden, gp::Light::dusk, gp::Light::dark}) {
      it.production.scenes[it.scene("march")].light = light;
      CHECK(it.broken() == Rules{5});
    }
    it.production.scenes[it.scene("march")].light = gp::Light::any;
    CHECK(it.broken().empty());
  }

  TEST_CASE("the base's place on earth counts where the scene's own is not given") {
    // march is at the beach, which has no latitude; hall in Ireland has day at ten in the morning.
    // At 54.4 N and 173.7 E it is ten in the evening then, and dark.
    Planned it = lamp();
    it.production.places[it.production.days[gp::DayId(0)].base].geo = gp::Geo{54.4, 173.7};
    CHECK(it.broken() == Rules{5});
    it.production.scenes[it.scene("march")].light = gp::Light::dark;
    CHECK(it.broken().empty());
    // its own counts first
    const gp::PlaceId beach = it.production.scenes[it.scene("march")].place;
    it.production.places[beach].geo = gp::Geo{54.4, -6.3};
    CHECK(it.broken() == Rules{5});
  }

  TEST_CASE("light that nobody can tell, since no place on earth is given") {
    Planned it = lamp();
    it.production.places[it.production.days[gp::DayId(0)].base].geo.reset();
    CHECK(it.broken() == Rules{5});
  }

  TEST_CASE("each light begins and ends with the sun, to a few minutes") {
    // London (51.5074 N, 0.1278 W) on 2025-06-21, UTC: civil dawn 02:55:22, sunrise 03:43:10,
    // sunset 20:21:33, civil dusk 21:09:21. Source: the npm package astronomy-engine 2.1.19, as in
    // tests/data/sun.csv. Two minutes inside must do, three minutes outside must not.
    const std::string text = R"({"greasepaint": 1, "title": "Sunset",
      "days": [{"date": "2025-06-21", "base": "hill"}],
      "places": [{"id": "hill", "lat": 51.5074, "lon": -0.1278}],
      "scenes": [{"id": "sun", "shoot_minutes": 10}]})";
    Planned it;
    it.production = gp::test::production_of(text);
    gp::DayPlan day;
    day.day = gp::DayId(0);
    gp::PlannedScene sun;
    sun.scene = it.scene("sun");
    sun.unit = gp::UnitId(0);
    day.scenes.push_back(sun);
    it.plan.days.push_back(day);
    const auto starts = [&](const std::string& from, gp::Light light) {
      gp::PlannedScene& row = it.planned("sun");
      it.production.scenes[it.scene("sun")].light = light;
      row.shoot_at = row.set_at = at(from);
      row.until = at(from) + Minutes{10};
      it.recount();
      return it.broken();
    };
    const Rules dark{5};
    CHECK(starts("03:45", gp::Light::day).empty());
    CHECK(starts("03:40", gp::Light::day) == dark);
    CHECK(starts("20:09", gp::Light::day).empty());
    CHECK(starts("20:14", gp::Light::day) == dark);
    // golden: an hour after sunrise, 04:43, and an hour before sunset, 19:21
    CHECK(starts("03:45", gp::Light::golden).empty());
    CHECK(starts("04:31", gp::Light::golden).empty());
    CHECK(starts("04:36", gp::Light::golden) == dark);
    CHECK(starts("19:18", gp::Light::golden) == dark);
    CHECK(starts("19:23", gp::Light::golden).empty());
    CHECK(starts("20:24", gp::Light::dusk).empty());
    CHECK(starts("20:18", gp::Light::dusk) == dark);
    CHECK(starts("20:57", gp::Light::dusk).empty());
    CHECK(starts("21:03", gp::Light::dusk) == dark);
    CHECK(starts("03:20", gp::Light::dusk) == dark);  // the dawn is none
    CHECK(starts("21:11", gp::Light::dark).empty());
    CHECK(starts("21:06", gp::Light::dark) == dark);
    CHECK(starts("02:43", gp::Light::dark).empty());
    CHECK(starts("02:49", gp::Light::dark) == dark);
  }
}
