#include "explain/absence/sturdy_plan.h"
#include "support/builder.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <doctest/doctest.h>

TEST_SUITE("explain/absence_sturdy_plan") {
  TEST_CASE(
      "the plan taken is right, the likeliest of the four that do as much, and the same each "
      "time") {
    // the king may be played by ana (0.2) or cleo (0.9)
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "t",
      "days": [{"date": "2027-04-17", "first_shot": "10:00", "wrap_by": "12:00"}],
      "people": [{"id": "ana", "turnout": 0.2}, {"id": "cleo", "turnout": 0.9}, {"id": "bo"},
                 {"id": "dov", "answer": "asked"}],
      "roles": [{"id": "queen"}, {"id": "king", "from": ["ana", "cleo"]},
                {"id": "guard", "crowd": true}],
      "scenes": [{"id": "hall", "shoot_minutes": 20, "cast": [{"role": "queen"}, {"role": "king"}]},
                 {"id": "yard", "shoot_minutes": 20, "cast": [{"role": "king"}, {"role": "guard"}]}]})");
    gp::Wishes wishes;
    wishes.effort = 0.2;
    gp::Stop stop;
    const auto sturdy = gp::absence::plan_for_absences(film, wishes, stop);
    CHECK(sturdy.compared == gp::absence::kPlansCompared);
    CHECK(gp::check(film, sturdy.plan, wishes.answers).empty());
    double best = 0;
    for (std::uint64_t seed = 1; seed <= 4; ++seed) {
      gp::Wishes one = wishes;
      one.seed = seed;
      one.effort = wishes.effort / 4;
      const gp::Plan plan = gp::make_plan(film, one, stop);
      REQUIRE(plan.not_filmed.empty());
      best = std::max(best, gp::absence::survival_of(film, plan, wishes.answers).all_filmed.chance);
    }
    CHECK(sturdy.survival.all_filmed.chance >= best - gp::absence::kSmallLoss);
    CHECK(sturdy.survival.all_filmed.chance >=
          sturdy.cheapest_chance.chance - gp::absence::kSmallLoss);
    gp::Stop again;
    CHECK(gp::absence::plan_for_absences(film, wishes, again).survival.all_filmed ==
          sturdy.survival.all_filmed);
  }

  TEST_CASE("a search asked to stop gives one plan all the same") {
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "t",
      "days": [{"date": "2027-04-17"}], "people": [{"id": "ana"}], "roles": [{"id": "queen"}],
      "scenes": [{"id": "hall", "shoot_minutes": 20, "cast": [{"role": "queen"}]}]})");
    const std::atomic<bool> asked{true};
    gp::Stop stop(std::nullopt, &asked);
    const auto sturdy = gp::absence::plan_for_absences(film, {}, stop);
    CHECK(sturdy.compared == 1);
    CHECK(gp::check(film, sturdy.plan).empty());
  }
}
