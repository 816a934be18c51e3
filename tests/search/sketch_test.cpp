#include "search/sketch/sketch.h"

#include "base/random.h"
#include "search/sketch/anneal_sketch.h"
#include "search/sketch/resketch.h"
#include "search/sketch/sketch_moves.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/recipes.h"
#include "support/seed.h"

#include <limits>
#include <string>

#include <doctest/doctest.h>

using gp::SceneId;
using gp::Stop;
using gp::test::ProductionSize;

namespace {

/// What a builder made of the first recipe, pencilled.
struct Pencilled {
  explicit Pencilled(const gp::Production& film)
      : problem(film, {}),
        builder(problem),
        recipe(gp::first_recipe(problem)),
        cost(builder.build(recipe, never)),
        ground(problem),
        sketch(ground) {
    sketch.load(builder, recipe);
  }

  Stop never;
  gp::Problem problem;
  gp::Builder builder;
  gp::Recipe recipe;
  gp::Cost cost;
  gp::SketchGround ground;
  gp::Sketch sketch;
};

gp::Production random_film(std::uint64_t seed, const ProductionSize& size) {
  return gp::test::production_of(gp::test::random_production(seed, size));
}

}  // namespace

TEST_SUITE("search/sketch") {
  TEST_CASE("a sketch of what was built tells how long everybody is there") {
    // two ghosts, one chair, 20 minutes each and 5 to dry, 10 to take it off, shot 10:00 to 10:30;
    // she who paints gets the chair ready in 10 minutes and films besides. As built:
    //   second in the chair 09:35-09:55, call 09:30, off 10:30-10:40:                 70 min
    //   first 09:15-09:35, call 09:10, off 10:40-10:50:                              100 min
    //   noor readies from 09:05, call 09:00, until 10:30:                             90 min
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "Two",
      "days": [{"date": "2027-04-17", "first_shot": "10:00"}],
      "people": [{"id": "noor", "can": ["paint", "camera"]}, {"id": "bo"}, {"id": "li"}],
      "looks": [{"id": "ghost",
                 "steps": [{"at": "chair", "minutes": 20, "by": "paint", "then_wait": 5}],
                 "off": [{"at": "chair", "minutes": 10}]}],
      "stations": [{"id": "chair", "set_minutes": 10}],
      "roles": [{"id": "ghost", "crowd": true, "look": "ghost", "from": ["bo", "li"]}],
      "scenes": [{"id": "spin", "shoot_minutes": 30, "cast": [{"role": "ghost", "people": 2}],
                  "crew": [{"job": "camera", "needs": ["camera"]}]}]})");
    Pencilled it(film);
    REQUIRE(it.cost.unfilled == 0);
    CHECK(it.cost.weighted == 260'000);
    // Pencilled: both ghosts 09:35 to 10:40, call 09:30, and the one waits 20 minutes before and
    // 10 after for the other: 2 * 70 + 20 + 10; noor as above.
    CHECK(it.sketch.cost() == 260'000);
  }

  TEST_CASE("differences add up: a sketch changed many times costs what it costs anew") {
    int changed = 0;
    for (std::uint64_t i = 0; i < 60; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film =
          random_film(seed, i % 4 == 3 ? ProductionSize::medium() : ProductionSize::small());
      Pencilled it(film);
      gp::Sketch& sketch = it.sketch;
      gp::Random random(seed);
      for (int step = 0; step < 400; ++step) {
        const std::int64_t before = sketch.cost();
        const bool says = gp::change_sketch(sketch, random);
        sketch.settle();
        if (random.chance(1, 2)) {
          sketch.undo();
          CHECK(sketch.cost() == before);
        } else {
          sketch.keep();
          changed += says ? 1 : 0;
        }
        if (step % 40 == 0) CHECK(sketch.cost() - sketch.worn_out() == sketch.recounted());
      }
      CHECK(sketch.cost() - sketch.worn_out() == sketch.recounted());
    }
    CHECK(changed > 2'000);
  }

  TEST_CASE("a change undone leaves nothing behind") {
    for (std::uint64_t i = 0; i < 20; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film = random_film(seed, ProductionSize::medium());
      Pencilled it(film);
      gp::Sketch& sketch = it.sketch;
      gp::Random random(seed);
      gp::Recipe before = sketch.unload(it.recipe);
      for (int step = 0; step < 200; ++step) {
        gp::change_sketch(sketch, random);
        sketch.settle();
        sketch.undo();
      }
      gp::Recipe after = sketch.unload(it.recipe);
      after.helpers = before.helpers;  // a list of its own each time
      CHECK(gp::test::same(before, after));
    }
  }

  TEST_CASE(
      "a recipe read off an annealed sketch is sound, and the sketch is cheaper than it was") {
    int cheaper = 0;
    for (std::uint64_t i = 0; i < 40; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film =
          random_film(seed, i % 4 == 3 ? ProductionSize::medium() : ProductionSize::small());
      Pencilled it(film);
      gp::Sketch& sketch = it.sketch;
      const std::int64_t before = sketch.cost();
      gp::Random random(seed);
      gp::anneal(sketch, 4'000, 1'000'000'000, {40'000, 1'000}, random, it.never);
      cheaper += sketch.cost() < before ? 1 : 0;
      const gp::Recipe recipe = sketch.unload(it.recipe);
      gp::test::check_sound(it.problem, recipe);
    }
    CHECK(cheaper >= 20);
  }

  TEST_CASE("the same seed gives the same sketch, and a limit of work is kept") {
    const gp::Production film = random_film(gp::test::seed(), ProductionSize::medium());
    Pencilled it(film);
    gp::Recipe first;
    for (int turn = 0; turn < 2; ++turn) {
      gp::Resketch sketches(it.problem);
      gp::Random random(7);
      gp::Recipe recipe = sketches.afresh(it.builder, it.recipe, 200'000, random, it.never);
      // what is looked at in a change differs, so the limit is kept but roughly
      CHECK(sketches.work() < 600'000);
      recipe.helpers.reset();
      if (turn == 0) first = recipe;
      CHECK(gp::test::same(first, recipe));
    }
  }
}
