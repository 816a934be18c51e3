#include "base/stop.h"
#include "explain/absence/survival.h"
#include "search/planner.h"
#include "support/builder.h"

#include <cmath>

#include <doctest/doctest.h>

namespace {

gp::absence::Survival of(const gp::Production& film) {
  gp::Stop stop;
  gp::Wishes wishes;
  wishes.effort = 0.05;
  const gp::Plan plan = gp::make_plan(film, wishes, stop);
  REQUIRE(plan.not_filmed.empty());
  return gp::absence::survival_of(film, plan, wishes.answers);
}

const std::string kBegin = R"({"greasepaint": 1, "title": "t",
  "days": [{"date": "2027-04-17", "first_shot": "10:00", "wrap_by": "12:00"}], )";

}  // namespace

TEST_SUITE("explain/absence_stand_ins") {
  TEST_CASE("a part given to one person has no stand-in, one with a choice has") {
    // hall: bo alone, 0.8; attic: ana or cleo or bo in the king's part, somebody of three at 0.9
    // 0.9 0.8
    const gp::Production film = gp::test::production_of(kBegin + R"(
      "people": [{"id": "ana"}, {"id": "bo", "turnout": 0.8}, {"id": "cleo"}],
      "roles": [{"id": "queen", "person": "bo"}, {"id": "king"}],
      "scenes": [{"id": "hall", "shoot_minutes": 10, "cast": [{"role": "queen"}]},
                 {"id": "attic", "shoot_minutes": 10, "cast": [{"role": "king"}]}]})");
    const auto survival = of(film);
    REQUIRE(survival.duties.size() == 2);
    for (const auto& duty : survival.duties) {
      if (film.roles[duty.role].id == "queen") CHECK(duty.stand_ins.empty());
      if (film.roles[duty.role].id == "king") CHECK(duty.stand_ins.size() == 2);
    }
    CHECK(survival.all_filmed.exact);
    // bo comes (0.8), and so the attic has him, whoever else stays away, unless the hall is at the
    // same time: one unit, so it is not
    CHECK(std::abs(survival.all_filmed.chance - 0.8) < 1e-12);
    CHECK(film.scenes[survival.scenes[0].scene].id == "hall");
    CHECK(std::abs(survival.scenes[1].filmed.chance - (1 - 0.1 * 0.2 * 0.1)) < 1e-12);
  }

  TEST_CASE("one stand-in takes one part: two parts in one scene with one spare person") {
    // ana and bo play, cleo is spare: at least two of three, 0.9^3 + 3*0.9^2*0.1 = 0.972
    const gp::Production film = gp::test::production_of(kBegin + R"(
      "people": [{"id": "ana"}, {"id": "bo"}, {"id": "cleo"}],
      "roles": [{"id": "queen"}, {"id": "king"}],
      "scenes": [{"id": "hall", "shoot_minutes": 10, "cast": [{"role": "queen"}, {"role": "king"}]}]})");
    CHECK(std::abs(of(film).all_filmed.chance - 0.972) < 1e-12);
  }

  TEST_CASE(
      "who is the only painter decides over the painted; who is not free then stands in for "
      "nobody") {
    const gp::Production film = gp::test::production_of(kBegin + R"(
      "people": [{"id": "ana", "can": ["paint"], "turnout": 0.5}, {"id": "bo", "turnout": 1},
                 {"id": "cleo", "turnout": 1, "free": ["2027-04-17 13:00-18:00"]}],
      "roles": [{"id": "ghost", "from": ["bo", "cleo"], "look": "chalk"}],
      "looks": [{"id": "chalk", "steps": [{"at": "mirror", "minutes": 10, "by": "paint"}]}],
      "stations": [{"id": "mirror", "staff": ["ana"]}],
      "scenes": [{"id": "hall", "shoot_minutes": 10, "cast": [{"role": "ghost"}]}]})");
    const auto survival = of(film);
    CHECK(std::abs(survival.all_filmed.chance - 0.5) < 1e-12);
    for (const auto& duty : survival.duties) CHECK(duty.stand_ins.empty());
  }

  TEST_CASE("whom the look fits in no size stands in for nobody who wears it") {
    // the helmet fits ana and cleo, bo's head is too large; dan's nobody has measured
    const gp::Production film = gp::test::production_of(kBegin + R"(
      "people": [{"id": "ana", "sizes": {"head_cm": 56}}, {"id": "bo", "sizes": {"head_cm": 60}},
                 {"id": "cleo", "sizes": {"head_cm": 58}}, {"id": "dan"}],
      "items": [{"id": "helmet", "fits": {"head_cm": "56-58"}}],
      "looks": [{"id": "guard", "items": ["helmet"]}],
      "roles": [{"id": "gatekeeper", "look": "guard"}],
      "scenes": [{"id": "gate", "shoot_minutes": 10, "cast": [{"role": "gatekeeper"}]}]})");
    const auto survival = of(film);
    REQUIRE(survival.duties.size() == 1);
    CHECK(film.people[survival.duties[0].person].id != "bo");
    CHECK(survival.duties[0].stand_ins.size() == 2);
    // one of three at 0.9
    CHECK(std::abs(survival.all_filmed.chance - (1 - 0.1 * 0.1 * 0.1)) < 1e-12);
  }

  TEST_CASE("a stand-in takes over the things that the plan gave out, and those must fit them") {
    // Both guards are in the scene and so both helmets out. Whoever has the small head wears the
    // small helmet: ana stands in for cleo and dan for bo, and neither for the other.
    const gp::Production film = gp::test::production_of(kBegin + R"(
      "people": [{"id": "ana", "sizes": {"head_cm": 56}}, {"id": "bo", "sizes": {"head_cm": 60}},
                 {"id": "cleo", "sizes": {"head_cm": 56}}, {"id": "dan", "sizes": {"head_cm": 60}}],
      "items": [{"id": "small", "fits": {"head_cm": "55-57"}, "instead": ["large"]},
                {"id": "large", "fits": {"head_cm": "59-61"}}],
      "looks": [{"id": "guard", "items": ["small"]}],
      "roles": [{"id": "left", "look": "guard", "from": ["ana", "bo", "cleo", "dan"]},
                {"id": "right", "look": "guard", "from": ["ana", "bo", "cleo", "dan"]}],
      "scenes": [{"id": "gate", "shoot_minutes": 10, "cast": [{"role": "left"}, {"role": "right"}]}]})");
    const auto survival = of(film);
    REQUIRE(survival.duties.size() == 2);
    for (const auto& duty : survival.duties) {
      const auto head = [&](gp::PersonId id) { return film.people[id].sizes.at("head_cm"); };
      REQUIRE(duty.stand_ins.size() == 1);
      CHECK(head(duty.stand_ins[0]) == head(duty.person));
    }
    // one of two at 0.9 for each helmet
    CHECK(std::abs(survival.all_filmed.chance - 0.99 * 0.99) < 1e-12);
  }
}
