#include "search/builder.h"

#include "base/random.h"
#include "model/check.h"
#include "model/price.h"
#include "ordering/sequence.h"
#include "search/move.h"
#include "search/unload.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cstdint>

#include <doctest/doctest.h>

using gp::Cost;
using gp::SceneId;
using gp::Stop;
using gp::test::ProductionSize;

namespace {

/// The plan's own recount as the builder's cost, with everything that What is best compares.
Cost recount(const gp::Production& film, const gp::Plan& plan) {
  const gp::Price price = gp::price(film, plan);
  Cost cost;
  cost.lost = price.not_filmed;
  cost.lost_optional = price.optional_not_filmed;
  cost.unfilled = price.unfilled;
  cost.weighted = price.weighted_on_site;
  cost.wrap = price.wrap;
  cost.on_site = plan.totals.on_site;
  return cost;
}

/// Some changes; now and then only of what leaves the order and the times alone, so that much of
/// the last draft can stay.
void change(const gp::Problem& problem, gp::Recipe& recipe, gp::Random& random) {
  const auto moves = gp::all_moves();
  if (random.chance(1, 2)) {
    const std::array small{gp::change_part, gp::change_turn, gp::change_patience};
    for (int n = random.between(1, 4); n > 0; --n) {
      small[random.index(small.size())](problem, recipe, random);
    }
    return;
  }
  for (int n = random.between(1, 3); n > 0; --n) {
    moves[random.index(moves.size())].apply(problem, recipe, random);
  }
}

struct Counts {
  int built = 0;
  int not_all_filmed = 0;
  int stopped = 0;
};

/// One builder builds a wandering recipe again and again; a new one builds each from nothing.
void compare(std::uint64_t seed, const ProductionSize& size, int steps, Counts& counts) {
  CAPTURE(seed);
  const gp::Production film = gp::test::production_of(gp::test::random_production(seed, size));
  gp::Wishes wishes;
  wishes.answers = {seed % 3 == 0, seed % 5 == 0};
  const gp::Problem problem(film, wishes);
  gp::Random random(seed);
  gp::Recipe recipe = gp::first_recipe(problem);
  gp::Recipe liked = recipe;
  gp::Builder kept(problem);
  for (int step = 0; step < steps; ++step) {
    CAPTURE(step);
    if (random.chance(1, 5)) recipe = liked;
    if (random.chance(1, 5)) liked = recipe;
    if (random.chance(1, 4)) {
      // as the search does where it turns to one day: every scene on its day, the days in turn
      for (const gp::SceneId scene : film.scenes.ids()) {
        if (kept.filmed(scene)) recipe.day[scene] = static_cast<int>(kept.filmed(scene)->day);
      }
      std::stable_sort(recipe.order.begin(), recipe.order.end(), [&](auto a, auto b) {
        return recipe.day[a] < recipe.day[b];
      });
      recipe.order = gp::forerunners_first(film, recipe.order);
    }
    change(problem, recipe, random);
    if (random.chance(1, 4)) {
      // Stopped on the way, at the next scenes or in the middle of one: a deadline that has passed
      // is seen at every sixteenth question.
      Stop late(Stop::Clock::now() - std::chrono::hours(1), nullptr);
      for (int asked = random.between(0, 15); asked > 0; --asked) late.now();
      kept.build(recipe, late);
      ++counts.stopped;
      if (random.chance(1, 2)) change(problem, recipe, random);
    }
    Stop never;
    const Cost cost = kept.build(recipe, never);
    gp::Builder fresh(problem);
    REQUIRE(fresh.build(recipe, never) == cost);
    const gp::Plan plan = gp::unload(problem, kept);
    REQUIRE(gp::unload(problem, fresh) == plan);
    REQUIRE(kept.work() >= fresh.work() / 1000);
    Cost counted = recount(film, plan);
    counted.early = cost.early;  // counted below
    CHECK(counted == cost);
    ++counts.built;
    if (!plan.not_filmed.empty()) ++counts.not_all_filmed;

    std::int64_t early = 0;
    for (const gp::DayPlan& day : plan.days) {
      if (film.aim != gp::Aim::latest_first_call || day.scenes.empty() || day.people.empty()) {
        continue;
      }
      // The rows are in order of call. A day that must end is counted from its end.
      const bool ends = film.days[day.day].wrap_by.has_value();
      early += gp::count((ends ? gp::kDayEnd : *day.first_shot) - day.people.front().call);
    }
    CHECK(early == cost.early);
  }
}

}  // namespace

TEST_SUITE("search/builder") {
  TEST_CASE("built on from the last, a recipe comes out as built from nothing, plan and cost") {
    constexpr int kSteps = 40;
    Counts counts;
    for (std::uint64_t i = 0; i < 60; ++i) {
      compare(gp::test::seed() + i, ProductionSize::small(), kSteps, counts);
    }
    for (std::uint64_t i = 0; i < 20; ++i) {
      compare(gp::test::seed() + 1000 + i, ProductionSize::medium(), kSteps, counts);
    }
    CHECK(counts.built == 80 * kSteps);
    CHECK(counts.stopped > 200);
    CHECK(counts.not_all_filmed > 50);
    CHECK(counts.not_all_filmed < counts.built / 2);
  }

  TEST_CASE("what is said of one day alone leaves the others standing") {
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "Two days",
      "days": [{"date": "2027-04-17",
                "meals": [{"name": "lunch", "minutes": 30, "between": "11:00-14:00"}]},
               {"date": "2027-04-18",
                "meals": [{"name": "lunch", "minutes": 30, "between": "11:00-14:00"}]}],
      "people": [{"id": "ana"}, {"id": "bo"}, {"id": "cy"}, {"id": "dov"}],
      "roles": [{"id": "guest", "crowd": true}],
      "scenes": [
        {"id": "a", "shoot_minutes": 30, "cast": [{"role": "guest", "people": 3}]},
        {"id": "b", "shoot_minutes": 30, "cast": [{"role": "guest", "people": 3}]},
        {"id": "c", "shoot_minutes": 30, "cast": [{"role": "guest", "people": 3}]},
        {"id": "d", "shoot_minutes": 30, "cast": [{"role": "guest", "people": 3}]}]})");
    const gp::Problem problem(film, {});
    gp::Recipe recipe = gp::first_recipe(problem);
    for (std::size_t s = 0; s < 4; ++s) recipe.day[gp::SceneId(s)] = s < 2 ? 0 : 1;
    Stop never;
    gp::Builder kept(problem);
    const auto work_of = [&](const gp::Recipe& next) {
      const std::uint64_t before = kept.work();
      const Cost cost = kept.build(next, never);
      gp::Builder fresh(problem);
      CHECK(fresh.build(next, never) == cost);
      return kept.work() - before;
    };
    const std::uint64_t all = work_of(recipe);
    const std::uint64_t none = work_of(recipe);
    CHECK(none < all);
    recipe.reluctance[1][gp::PersonId(0)] = 90;  // the second day: its two scenes
    const std::uint64_t second = work_of(recipe);
    CHECK(second > none);
    CHECK(second < all);
    recipe.meals[1][0].reset();
    CHECK(work_of(recipe) < all);
    recipe.reluctance[0][gp::PersonId(0)] = 90;  // the first day comes before all: everything
    CHECK(work_of(recipe) + 8 > all);
  }

  TEST_CASE("every draft of a wandering recipe is right but for the reasons") {
    for (std::uint64_t i = 0; i < 60; ++i) {
      const std::uint64_t seed = gp::test::seed() + 500 + i;
      CAPTURE(seed);
      const gp::Production film =
          gp::test::production_of(gp::test::random_production(seed, ProductionSize::small()));
      gp::Wishes wishes;
      wishes.answers = {true, i % 2 == 0};
      const gp::Problem problem(film, wishes);
      gp::Random random(seed);
      gp::Recipe recipe = gp::first_recipe(problem);
      gp::Builder builder(problem);
      Stop never;
      for (int step = 0; step < 12; ++step) {
        change(problem, recipe, random);
        builder.build(recipe, never);
        gp::Plan plan = gp::unload(problem, builder);
        for (auto& row : plan.not_filmed) row.why = "not asked";
        for (auto& row : plan.unfilled) row.why = "not asked";
        for (const gp::Broken& broken : gp::check(film, plan, wishes.answers)) {
          FAIL_CHECK("rule ", broken.rule, ": ", broken.where, ": ", broken.what);
        }
      }
    }
  }

  TEST_CASE("asking whether somebody could be had besides leaves everything as it was") {
    int asked = 0;
    int possible = 0;
    for (std::uint64_t i = 0; i < 40; ++i) {
      const std::uint64_t seed = gp::test::seed() + 700 + i;
      CAPTURE(seed);
      const gp::Production film =
          gp::test::production_of(gp::test::random_production(seed, ProductionSize::small()));
      const gp::Problem problem(film, {});
      gp::Builder builder(problem);
      Stop never;
      builder.build(gp::first_recipe(problem), never);
      const gp::Plan plan = gp::unload(problem, builder);
      for (SceneId scene : film.scenes.ids()) {
        if (!builder.filmed(scene)) continue;
        for (const gp::Slot& slot : problem.slots.of(scene)) {
          for (gp::PersonId who : slot.candidates) {
            ++asked;
            if (builder.try_besides(who, slot, scene) == gp::Snag::none) ++possible;
          }
        }
      }
      CHECK(gp::unload(problem, builder) == plan);
    }
    CHECK(asked > 300);
    CHECK(possible > 30);
    CHECK(possible < asked);
  }

  TEST_CASE("stopped at once, nothing is placed; stopped on the way, what there is is right") {
    // A production of many scenes, so that more than sixteen questions are asked; most of them can
    // be filmed, and the first at once.
    gp::Production film;
    std::size_t filmed = 0;
    for (std::uint64_t i = 0; film.scenes.size() < 12 || filmed * 2 < film.scenes.size(); ++i) {
      film = gp::test::production_of(
          gp::test::random_production(gp::test::seed() + i, ProductionSize::medium()));
      const gp::Problem problem(film, {});
      gp::Builder builder(problem);
      Stop never;
      const gp::Recipe recipe = gp::first_recipe(problem);
      builder.build(recipe, never);
      if (recipe.order.empty() || !builder.filmed(recipe.order.front())) continue;
      const std::uint64_t all = builder.work();
      gp::Recipe hasty = recipe;
      hasty.order.resize(1);
      gp::Builder first(problem);
      first.build(hasty, never);
      if (first.work() * 12 > all) continue;
      filmed = film.scenes.size() - gp::unload(problem, builder).not_filmed.size();
    }
    const gp::Problem problem(film, {});
    const gp::Recipe recipe = gp::first_recipe(problem);
    const std::atomic<bool> requested{true};
    Stop at_once(std::nullopt, &requested);
    gp::Builder builder(problem);
    const Cost cost = builder.build(recipe, at_once);
    CHECK(builder.cut_short());
    CHECK(cost.weighted == 0);
    std::size_t least = film.scenes.size();
    std::size_t most = 0;
    for (int asked = 0; asked < 16; ++asked) {
      CAPTURE(asked);
      Stop late(Stop::Clock::now() - std::chrono::hours(1), nullptr);
      for (int n = 0; n < asked; ++n) late.now();
      gp::Builder some(problem);
      some.build(recipe, late);
      CHECK(some.cut_short());
      gp::Plan plan = gp::unload(problem, some);
      for (auto& row : plan.not_filmed) row.why = "not asked";
      for (auto& row : plan.unfilled) row.why = "not asked";
      CHECK(gp::check(film, plan).empty());
      least = std::min(least, plan.not_filmed.size());
      most = std::max(most, plan.not_filmed.size());
    }
    CHECK(least < most);
  }
}
