#include "base/random.h"
#include "search/move.h"
#include "search/recipe.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/recipes.h"
#include "support/seed.h"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::DayId;
using gp::RoleId;
using gp::SceneId;
using gp::test::check_sound;
using gp::test::ProductionSize;
using gp::test::same;

namespace {

const gp::Move& move_of(const std::string& name) {
  for (const gp::Move& move : gp::all_moves()) {
    if (move.name == name) return move;
  }
  throw std::runtime_error("no move " + name);
}

gp::Production film_of(const std::string& more) {
  return gp::test::production_of(
      R"({"greasepaint": 1, "title": "Moves", "days": [{"date": "2027-04-17"}])" + more + "}");
}

}  // namespace

TEST_SUITE("search/moves") {
  TEST_CASE("every move keeps a recipe sound, and says truly whether it changed anything") {
    std::map<std::string, int> changed;
    std::map<std::string, int> idle;
    for (std::uint64_t i = 0; i < 80; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const auto size = i % 4 == 3 ? ProductionSize::medium() : ProductionSize::small();
      const gp::Production film = gp::test::production_of(gp::test::random_production(seed, size));
      const gp::Problem problem(film, {});
      gp::Random random(seed);
      gp::Recipe recipe = gp::first_recipe(problem);
      check_sound(problem, recipe);
      for (int step = 0; step < 150; ++step) {
        const gp::Move& move = gp::all_moves()[random.index(gp::all_moves().size())];
        const std::string name = move.name;
        CAPTURE(name);
        const gp::Recipe before = recipe;
        const bool says = move.apply(problem, recipe, random);
        CHECK(says == !same(before, recipe));
        ++(says ? changed : idle)[name];
        if (step % 10 == 0) check_sound(problem, recipe);
      }
      check_sound(problem, recipe);
    }
    for (const gp::Move& move : gp::all_moves()) {
      const std::string name = move.name;
      CAPTURE(name);
      CHECK(changed[name] > 100);
      CHECK(move.weight > 0);
    }
    // Those that depend on what there is (one day, no meals, one person for a part) are often idle.
    CHECK(idle["change day"] > 100);
    CHECK(idle["shift meal"] > 100);
    CHECK(idle["change part"] > 100);
  }

  TEST_CASE("whoever is picked for a head is one who may, and nothing else changes") {
    int changed = 0;
    for (std::uint64_t i = 0; i < 20; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film =
          gp::test::production_of(gp::test::random_production(seed, ProductionSize::medium()));
      const gp::Problem problem(film, {});
      gp::Random random(seed);
      gp::Recipe recipe = gp::first_recipe(problem);
      for (int step = 0; step < 100; ++step) {
        gp::Recipe before = recipe;
        const bool says = gp::change_pick(problem, recipe, random);
        CHECK(says == !same(before, recipe));
        changed += says ? 1 : 0;
        before.picks = recipe.picks;
        CHECK(same(before, recipe));
      }
      check_sound(problem, recipe);
    }
    CHECK(changed > 300);
  }

  TEST_CASE("a unit's day in another order is sound, and of that day alone") {
    int changed = 0;
    for (std::uint64_t i = 0; i < 20; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film =
          gp::test::production_of(gp::test::random_production(seed, ProductionSize::medium()));
      const gp::Problem problem(film, {});
      gp::Random random(seed);
      gp::Builder builder(problem);
      gp::Stop never;
      gp::Recipe recipe = gp::first_recipe(problem);
      for (int step = 0; step < 20; ++step) {
        builder.build(recipe, never);
        gp::Recipe before = recipe;
        changed += gp::reorder_row(problem, gp::times_of(problem, builder), recipe, random) ? 1 : 0;
        before.order = recipe.order;
        before.hold_back = recipe.hold_back;
        CHECK(same(before, recipe));
        check_sound(problem, recipe);
      }
    }
    CHECK(changed > 100);
  }

  TEST_CASE("a move changes only what its name says") {
    const std::map<std::string, std::string> touches = {{"shift scenes", "order"},
                                                        {"swap scenes", "order"},
                                                        {"turn scenes", "order"},
                                                        {"change day", "day"},
                                                        {"change part", "part"},
                                                        {"change turn", "turn"},
                                                        {"shift meal", "meals"},
                                                        {"hold scene back", "hold_back"},
                                                        {"change patience", "patient"},
                                                        {"lean", "reluctance"},
                                                        {"change stayers", "stayers"},
                                                        {"turn heads", "heads_first"}};
    REQUIRE(touches.size() == gp::all_moves().size());
    for (std::uint64_t i = 0; i < 20; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film =
          gp::test::production_of(gp::test::random_production(seed, ProductionSize::medium()));
      const gp::Problem problem(film, {});
      gp::Random random(seed);
      const gp::Recipe first = gp::first_recipe(problem);
      for (const auto& row : touches) {
        const std::string name = row.first;
        const std::string what = row.second;
        CAPTURE(name);
        gp::Recipe recipe = first;
        for (int n = 0; n < 20; ++n) move_of(name).apply(problem, recipe, random);
        CHECK((what == "order" || recipe.order == first.order));
        CHECK((what == "day" || recipe.day == first.day));
        CHECK((what == "part" || recipe.part == first.part));
        CHECK((what == "turn" || recipe.turn == first.turn));
        CHECK((what == "meals" || recipe.meals == first.meals));
        CHECK((what == "hold_back" || recipe.hold_back == first.hold_back));
        CHECK((what == "patient" || recipe.patient == first.patient));
        CHECK((what == "reluctance" || recipe.reluctance == first.reluctance));
        CHECK((what == "stayers" || recipe.stayers == first.stayers));
        CHECK((what == "heads_first" || recipe.heads_first == first.heads_first));
      }
    }
  }

  TEST_CASE("where there is nothing of its kind a move says so") {
    gp::Random random(1);
    const gp::Production empty = film_of("");
    const gp::Problem nothing(empty, {});
    gp::Recipe recipe = gp::first_recipe(nothing);
    for (const gp::Move& move : gp::all_moves()) {
      const std::string name = move.name;
      CAPTURE(name);
      for (int n = 0; n < 50; ++n) CHECK_FALSE(move.apply(nothing, recipe, random));
    }
    // One scene after the other: there is one order only.
    const gp::Production chain = film_of(R"(, "scenes": [{"id": "a"}, {"id": "b", "after": ["a"]},
                                            {"id": "c", "after": ["b"]}])");
    const gp::Problem fixed(chain, {});
    recipe = gp::first_recipe(fixed);
    for (const std::string name : {"shift scenes", "swap scenes", "turn scenes"}) {
      CAPTURE(name);
      for (int n = 0; n < 50; ++n) CHECK_FALSE(move_of(name).apply(fixed, recipe, random));
    }
  }

  TEST_CASE("every order of four scenes is reached from the first by each of the order moves") {
    const gp::Production film =
        film_of(R"(, "scenes": [{"id": "a"}, {"id": "b"}, {"id": "c"}, {"id": "d"}])");
    const gp::Problem problem(film, {});
    for (const std::string name : {"shift scenes", "swap scenes", "turn scenes"}) {
      CAPTURE(name);
      gp::Random random(gp::test::seed());
      gp::Recipe recipe = gp::first_recipe(problem);
      std::set<std::vector<SceneId>> orders;
      for (int n = 0; n < 1000; ++n) {
        move_of(name).apply(problem, recipe, random);
        orders.insert(recipe.order);
      }
      CHECK(orders.size() == 24);
    }
  }

  TEST_CASE("a meal is missed: the day begins after its span does, or as early as it can") {
    // Tea between 09:30 and 10:30. Called at 09:35, the next call after 09:30, ana has signed in
    // and is on the beach at 09:35 + 5 + 10 = 09:50.
    const gp::Production film = gp::test::production_of(R"({
      "greasepaint": 1, "title": "Tea",
      "days": [{"date": "2027-04-17", "base": "hall", "first_shot": "09:00",
                "meals": [{"name": "tea", "minutes": 20, "between": "09:30-10:30"}]}],
      "places": [{"id": "hall", "minutes_to": {"beach": 10}}, {"id": "beach"}],
      "people": [{"id": "ana"}], "roles": [{"id": "one", "person": "ana"}],
      "scenes": [{"id": "early", "place": "beach", "shoot_minutes": 10, "cast": [{"role": "one"}]},
                 {"id": "late", "place": "beach", "shoot_minutes": 10, "at": "11:00",
                  "cast": [{"role": "one"}]}]})");
    const gp::Problem problem(film, {});
    const SceneId early(0);
    gp::BuiltTimes times(2);
    times[early] = gp::SceneTimes{0, gp::minute(540), gp::minute(550), gp::minute(540)};
    times[SceneId(1)] = gp::SceneTimes{0, gp::minute(660), gp::minute(670), gp::minute(660)};
    gp::Random random(gp::test::seed());
    int later = 0;
    int earlier = 0;
    for (int i = 0; i < 40; ++i) {
      gp::Recipe recipe = gp::first_recipe(problem);
      recipe.hold_back[early] = gp::Minutes{7};
      const gp::Recipe before = recipe;
      REQUIRE(gp::miss_meal(problem, times, recipe, random));
      check_sound(problem, recipe);
      CHECK_FALSE(recipe.meals[0][0].has_value());
      CHECK(recipe.hold_back[SceneId(1)] == gp::Minutes{0});
      if (recipe.hold_back[early] == gp::Minutes{50}) ++later;
      if (recipe.hold_back[early] == gp::Minutes{0}) ++earlier;
      recipe.hold_back = before.hold_back;
      recipe.meals = before.meals;
      CHECK(same(before, recipe));  // nothing else was changed
      recipe.meals[0][0].reset();
      CHECK_FALSE(gp::miss_meal(problem, times, recipe, random));  // none to miss
    }
    CHECK(later + earlier == 40);
    CHECK(later > 5);
    CHECK(earlier > 5);
  }

  TEST_CASE("a gap is closed: what comes before it is held back until the unit goes on") {
    // 09:00 one, then nothing until two must be at 11:00: ten minutes each, so one could be at
    // 10:50
    const gp::Production film = gp::test::production_of(R"({
      "greasepaint": 1, "title": "A gap", "sign_in_minutes": 0,
      "days": [{"date": "2027-04-17", "first_shot": "09:00"}],
      "people": [{"id": "ana"}], "roles": [{"id": "one", "person": "ana"}],
      "scenes": [{"id": "first", "shoot_minutes": 10, "cast": [{"role": "one"}]},
                 {"id": "second", "shoot_minutes": 10, "at": "11:00", "cast": [{"role": "one"}]}]})");
    const gp::Problem problem(film, {});
    const SceneId first(0);
    const SceneId second(1);
    gp::BuiltTimes times(2);
    times[first] = gp::SceneTimes{0, gp::minute(540), gp::minute(550), gp::minute(540)};
    times[second] = gp::SceneTimes{0, gp::minute(660), gp::minute(670), gp::minute(660)};
    gp::Random random(gp::test::seed());
    int whole = 0;
    for (int i = 0; i < 200; ++i) {
      gp::Recipe recipe = gp::first_recipe(problem);
      const gp::Recipe before = recipe;
      if (!gp::close_gap(problem, times, recipe, random)) {
        CHECK(same(before, recipe));
        continue;
      }
      check_sound(problem, recipe);
      CHECK(recipe.hold_back[second] == gp::Minutes{0});
      CHECK(recipe.hold_back[first] > gp::Minutes{0});
      CHECK(recipe.hold_back[first] <= gp::Minutes{110});
      if (recipe.hold_back[first] == gp::Minutes{110}) ++whole;
      recipe.hold_back = before.hold_back;
      CHECK(same(before, recipe));  // nothing else was changed
    }
    CHECK(whole > 50);
    // nothing filmed, nothing to close
    gp::Recipe recipe = gp::first_recipe(problem);
    CHECK_FALSE(gp::close_gap(problem, gp::BuiltTimes(2), recipe, random));
  }
}
