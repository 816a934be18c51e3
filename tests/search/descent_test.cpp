#include "search/descent.h"

#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"
#include "support/slow_build.h"

#include <doctest/doctest.h>

using gp::Best;
using gp::Builder;
using gp::Problem;
using gp::Recipe;

namespace {

/// The recipe as built so often that there is work to spend a quarter of.
Best built(Builder& builder, const Recipe& recipe) {
  gp::Stop stop;
  Best best;
  best.recipe = recipe;
  for (int times = 0; times < 2'000; ++times) best.cost = builder.build(recipe, stop);
  return best;
}

Best descended(const Problem& problem, Builder& builder, Best best) {
  gp::Stop stop;
  gp::descend(problem, builder, best, stop, {});
  return best;
}

}  // namespace

TEST_SUITE("search/descent") {
  TEST_CASE("a day held back for nothing begins when it can") {
    // Ana is there from 08:00 to 08:50 or from 09:20: the two scenes and their set need 70 minutes,
    // so they begin at 09:25, five after she is called.
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "Late",
      "days": [{"date": "2027-04-17", "nobody_before": "08:00", "wrap_by": "18:00"}],
      "people": [{"id": "ana", "free": ["2027-04-17 08:00-08:50", "2027-04-17 09:20-18:00"]}],
      "roles": [{"id": "cook", "person": "ana"}],
      "scenes": [{"id": "supper", "shoot_minutes": 40, "cast": [{"role": "cook"}]},
                 {"id": "dishes", "set_minutes": 10, "shoot_minutes": 20, "after": ["supper"],
                  "cast": [{"role": "cook"}]}]})");
    const Problem problem(film, {});
    Builder builder(problem);
    Recipe late = gp::first_recipe(problem);
    late.hold_back[gp::SceneId(0)] = gp::Minutes{5 * 60 + 25};
    const Best before = built(builder, late);
    CHECK(before.cost.wrap == 13 * 60 + 25 + 70);
    const Best after = descended(problem, builder, before);
    CHECK(after.cost.weighted == 75'000);
    CHECK(after.cost.weighted == before.cost.weighted);
    CHECK(after.cost.wrap == 9 * 60 + 25 + 70);
  }

  TEST_CASE("what it ends with is no worse, and is what it says") {
    for (std::uint64_t i = 0; i < gp::test::cases(40); ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::small()));
      const Problem problem(film, {});
      Builder builder(problem);
      const Best before = built(builder, gp::first_recipe(problem));
      const Best after = descended(problem, builder, before);
      CHECK(after.cost <= before.cost);
      gp::Stop stop;
      CHECK(builder.build(after.recipe, stop) == after.cost);
    }
  }

  TEST_CASE("asked to stop, it leaves all as it was") {
    const gp::Production film = gp::test::production_of(
        gp::test::random_production(gp::test::seed(), gp::test::ProductionSize::small()));
    const Problem problem(film, {});
    Builder builder(problem);
    const Best before = built(builder, gp::first_recipe(problem));
    gp::Stop stop;
    gp::Stop over = stop.within(0.0);
    Best after = before;
    gp::descend(problem, builder, after, over, {});
    CHECK(after.cost == before.cost);
    CHECK(after.recipe.order == before.recipe.order);
  }
}
