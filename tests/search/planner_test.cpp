#include "search/planner.h"

#include "model/check.h"
#include "model/price.h"
#include "search/bound.h"
#include "search/builder.h"
#include "search/problem.h"
#include "search/recipe.h"
#include "search/span_bound.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"
#include "support/slow_build.h"

#include <atomic>
#include <cstdint>
#include <string>

#include <doctest/doctest.h>

using gp::Plan;
using gp::Price;
using gp::Production;
using gp::Stop;
using gp::Wishes;
using gp::test::ProductionSize;

namespace {

Plan planned(const Production& film, const Wishes& wishes) {
  Stop stop;
  return gp::make_plan(film, wishes, stop);
}

Plan without_seconds(Plan plan) {
  plan.totals.seconds = 0;
  return plan;
}

Wishes quick(std::uint64_t seed) {
  Wishes wishes;
  wishes.seed = seed;
  wishes.effort = gp::test::effort(0.05);
  return wishes;
}

Production random_film(std::uint64_t seed, const ProductionSize& size) {
  return gp::test::production_of(gp::test::random_production(seed, size));
}

void check_right(const Production& film, const Plan& plan, gp::Answers answers = {}) {
  for (const gp::Broken& broken : gp::check(film, plan, answers)) {
    FAIL_CHECK("rule ", broken.rule, ": ", broken.where, ": ", broken.what);
  }
}

/// Its own sums, reasons and bound.
void check_told(const Production& film, const Plan& plan, const Wishes& wishes) {
  const Price price = gp::price(film, plan);
  CHECK(plan.totals.on_site == price.on_site);
  CHECK(plan.totals.weighted_on_site == price.weighted_on_site);
  CHECK(plan.totals.waiting == price.waiting);
  CHECK(plan.title == film.title);
  for (const auto& row : plan.not_filmed) CHECK_FALSE(row.why.empty());
  for (const auto& row : plan.unfilled) {
    CHECK_FALSE(row.why.empty());
    CHECK(row.missing > 0);
  }
  const gp::Problem problem(film, wishes);
  const bool least_time = film.aim == gp::Aim::least_time;
  const gp::Thousandths value = least_time ? price.weighted_on_site : price.span * 1000;
  const auto& bound = plan.totals.bound;
  CHECK(plan.totals.proven == (bound == value));
  gp::Stop never;
  const auto again = least_time ? gp::lower_bound(problem, plan, {}, never)
                                : gp::span_bound(problem, plan, price.span, 1'000'000, never);
  // the planner's own knows of the order of the scenes, and asks for longer
  CHECK(bound.has_value() == again.has_value());
  if (bound) {
    CHECK(*bound >= *again);
    CHECK(*bound <= value);
  } else {
    CHECK_FALSE(least_time);
  }
}

/// Two days, a boat on the second alone; ada comes, bo perhaps, cleo has only been asked.
constexpr const char* kTwoDays = R"({"greasepaint": 1, "title": "Boats",
  "days": [{"date": "2027-04-17", "nobody_before": "08:00", "wrap_by": "12:00"},
           {"date": "2027-04-18", "nobody_before": "08:00", "wrap_by": "12:00"}],
  "people": [{"id": "ada"}, {"id": "bo", "answer": "maybe"}, {"id": "cleo", "answer": "asked"},
             {"id": "dov", "answer": "no"}],
  "roles": [{"id": "captain", "person": "ada"}, {"id": "sailor", "crowd": true}],
  "scenes": [{"id": "shore", "shoot_minutes": 20, "cast": [{"role": "captain"}]},
             {"id": "boat", "shoot_minutes": 30, "day": "2027-04-18",
              "cast": [{"role": "captain"}, {"role": "sailor", "people": 3}]}]})";

}  // namespace

TEST_SUITE("search/planner") {
  TEST_CASE(
      "whoever plays a guard wears what fits, and a part that is given is played all the same") {
    // ana's head is too large for the helmet and not for the bucket; bo was not measured; cleo fits
    // neither. There is one of each: ana has the bucket, bo the helmet, cleo nothing.
    Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "T",
      "days": [{"date": "2027-04-17", "first_shot": "10:00", "wrap_by": "12:00"}],
      "people": [{"id": "ana", "sizes": {"head_cm": 60}}, {"id": "bo"}, {"id": "cleo", "sizes": {"head_cm": 70}}],
      "roles": [{"id": "guard", "crowd": true, "look": "armour"}],
      "looks": [{"id": "armour", "items": ["helmet"]}],
      "items": [{"id": "helmet", "fits": {"head_cm": "56-58"}, "instead": ["bucket"]},
                {"id": "bucket", "fits": {"head_cm": "50-64"}}],
      "scenes": [{"id": "s", "shoot_minutes": 20, "cast": [{"role": "guard", "people": 3}]}]})");
    const Plan plan = planned(film, quick(1));
    check_right(film, plan);
    REQUIRE(plan.days.size() == 1);
    REQUIRE(plan.days[0].wears.size() == 2);
    for (const gp::Wear& wear : plan.days[0].wears) {
      CHECK(wear.person != gp::PersonId(2));
      CHECK(wear.items == std::vector{gp::ItemId(wear.person == gp::PersonId(0) ? 1U : 0U)});
    }
    REQUIRE(plan.unfilled.size() == 1);
    CHECK(plan.unfilled[0].why.find("1 does not fit into the look") != std::string::npos);

    film.roles[gp::RoleId(0)].crowd = false;
    film.roles[gp::RoleId(0)].person = gp::PersonId(2);
    film.scenes[gp::SceneId(0)].cast[0].people = 1;
    const Plan given = planned(film, quick(1));
    check_right(film, given);
    CHECK(given.not_filmed.empty());
  }

  TEST_CASE("plans of 130 small random productions are right, and say why what is lost is lost") {
    int whole = 0;
    for (std::uint64_t i = 0; i < gp::test::cases(130); ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const Production film = random_film(seed, ProductionSize::small());
      Wishes wishes = quick(seed);
      wishes.answers = {i % 3 == 1, i % 4 == 1};
      const Plan plan = planned(film, wishes);
      check_right(film, plan, wishes.answers);
      check_told(film, plan, wishes);
      if (plan.not_filmed.empty() && plan.unfilled.empty()) ++whole;
    }
    if (gp::test::kSlowBuild) return;
    CHECK(whole > 40);
    CHECK(whole < 125);
  }

  TEST_CASE("plans of 24 medium random productions are right, and say why what is lost is lost") {
    for (std::uint64_t i = 0; i < gp::test::cases(24); ++i) {
      const std::uint64_t seed = gp::test::seed() + 1000 + i;
      CAPTURE(seed);
      const Production film = random_film(seed, ProductionSize::medium());
      const Wishes wishes = quick(seed);
      const Plan plan = planned(film, wishes);
      check_right(film, plan);
      check_told(film, plan, wishes);
    }
  }

  TEST_CASE("more work never gives a worse plan") {
    // The same seed draws the same changes: what is found in less is found on the way.
    for (std::uint64_t i = 0; i < gp::test::cases(12); ++i) {
      const std::uint64_t seed = gp::test::seed() + 2000 + i;
      CAPTURE(seed);
      const Production film = random_film(seed, ProductionSize::small());
      Wishes wishes = quick(seed);
      wishes.effort = gp::test::effort(0.01);
      const Price less = gp::price(film, planned(film, wishes));
      wishes.effort = gp::test::effort(0.05);
      const Price more = gp::price(film, planned(film, wishes));
      if (film.aim == gp::Aim::least_time) CHECK_FALSE(gp::better(less, more, film.aim));
      CHECK(more.not_filmed <= less.not_filmed);
    }
  }

  TEST_CASE("the same seed and threads give the same plan, but for the seconds") {
    int different_seed = 0;
    for (std::uint64_t i = 0; i < (gp::test::kSlowBuild ? 2 : 14); ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const auto size = i < 11 ? ProductionSize::small() : ProductionSize::medium();
      const Production film = random_film(seed, size);
      for (const int threads : {1, 2, 3}) {
        CAPTURE(threads);
        Wishes wishes = quick(seed);
        wishes.effort = gp::test::effort(0.02);
        wishes.threads = threads;
        const Plan first = without_seconds(planned(film, wishes));
        CHECK(first == without_seconds(planned(film, wishes)));
        if (threads > 1) continue;
        wishes.seed += 1;
        if (!(first == without_seconds(planned(film, wishes)))) ++different_seed;
      }
    }
    if (!gp::test::kSlowBuild) CHECK(different_seed > 0);  // the seed does count
  }

  TEST_CASE("two threads are never worse than one") {
    for (std::uint64_t i = 0; i < gp::test::cases(10); ++i) {
      const std::uint64_t seed = gp::test::seed() + 300 + i;
      CAPTURE(seed);
      const Production film = random_film(seed, ProductionSize::small());
      Wishes wishes = quick(seed);
      const Price one = gp::price(film, planned(film, wishes));
      wishes.threads = 2;
      const Price two = gp::price(film, planned(film, wishes));
      if (film.aim == gp::Aim::least_time) CHECK_FALSE(gp::better(one, two, film.aim));
    }
  }

  TEST_CASE("watched, the plan is the same, and what is told only gets better") {
    const Production film = random_film(gp::test::seed() + 1000, ProductionSize::medium());
    Wishes wishes = quick(1);
    wishes.effort = gp::test::effort(0.3);
    const Plan unwatched = without_seconds(planned(film, wishes));
    Stop stop;
    int told = 0;
    double share = 0;
    std::optional<std::int64_t> lost;
    const Plan watched = gp::make_plan(film, wishes, stop, [&](const gp::Progress& progress) {
      ++told;
      CHECK(progress.share >= share);
      CHECK(progress.share <= 1);
      share = progress.share;
      if (lost) CHECK(progress.best.not_filmed <= *lost);
      lost = progress.best.not_filmed;
    });
    CHECK(without_seconds(watched) == unwatched);
    CHECK(told >= 1);
  }

  TEST_CASE("asked to stop at once, there is still a right plan") {
    const std::atomic<bool> requested{true};
    for (std::uint64_t i = 0; i < 20; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const Production film =
          random_film(seed, i % 4 == 0 ? ProductionSize::medium() : ProductionSize::small());
      Stop stop(std::nullopt, &requested);
      const Plan plan = gp::make_plan(film, {}, stop);
      check_right(film, plan);
      for (const auto& row : plan.not_filmed) CHECK_FALSE(row.why.empty());
    }
  }

  TEST_CASE("no time at all gives the first plan whole; some time is kept to") {
    const Production film = random_film(gp::test::seed() + 1003, ProductionSize::medium());
    Wishes wishes;
    wishes.seconds = 0;
    const Plan first = planned(film, wishes);
    check_right(film, first);
    CHECK(without_seconds(first) == without_seconds(planned(film, wishes)));
    wishes.seconds = 0.4;
    const Plan timed = planned(film, wishes);
    check_right(film, timed);
    // the search's share, 0.68 of it; that of the last small changes and that of the steps are left
    // where there is nothing to gain
    CHECK(timed.totals.seconds >= 0.26);
    CHECK(timed.totals.seconds < 0.4 + 2.5);  // a busy machine
    CHECK_FALSE(gp::better(gp::price(film, first), gp::price(film, timed), film.aim));
  }

  TEST_CASE("no time at all: whatever was begun after the first plan does not spoil it") {
    for (std::uint64_t i = 0; i < gp::test::cases(24); ++i) {
      const std::uint64_t seed = gp::test::seed() + 1000 + i;
      CAPTURE(seed);
      const Production film = random_film(seed, ProductionSize::medium());
      Wishes wishes;
      wishes.seconds = 0;
      const Price price = gp::price(film, planned(film, wishes));
      const gp::Problem problem(film, wishes);
      gp::Builder builder(problem);
      Stop never;
      const gp::Cost first = builder.build(gp::first_recipe(problem), never);
      CHECK(price.not_filmed <= first.lost);
      if (price.not_filmed == first.lost) CHECK(price.optional_not_filmed <= first.lost_optional);
    }
  }

  TEST_CASE("one day alone: what is tied to another is lost, and says so") {
    const Production film = gp::test::production_of(kTwoDays);
    Wishes wishes = quick(1);
    wishes.answers = {true, true};
    const Plan both = planned(film, wishes);
    REQUIRE(both.days.size() == 2);
    CHECK(both.not_filmed.empty());
    CHECK(both.unfilled.size() == 1);
    wishes.only_day = gp::DayId(0);
    const Plan first = planned(film, wishes);
    check_right(film, first, wishes.answers);
    REQUIRE(first.days.size() == 1);
    CHECK(first.days[0].day == gp::DayId(0));
    REQUIRE(first.not_filmed.size() == 1);
    CHECK(first.not_filmed[0].scene == gp::SceneId(1));
    CHECK(first.not_filmed[0].why == "it is tied to 2027-04-18, which was not planned");
    wishes.only_day = gp::DayId(1);
    const Plan second = planned(film, wishes);
    REQUIRE(second.days.size() == 1);
    CHECK(second.days[0].day == gp::DayId(1));
    CHECK(second.not_filmed.empty());
  }

  TEST_CASE("who counts as coming is what the caller says, and a no is a no") {
    const Production film = gp::test::production_of(kTwoDays);
    // The boat asks for three sailors besides ada: bo where maybe counts, cleo where asked does.
    const auto sailors = [&](gp::Answers answers) {
      Wishes wishes = quick(1);
      wishes.answers = answers;
      const Plan plan = planned(film, wishes);
      check_right(film, plan, answers);
      int missing = 0;
      for (const auto& row : plan.unfilled) missing += row.missing;
      return 3 - missing;
    };
    CHECK(sailors({}) == 0);
    CHECK(sailors({true, false}) == 1);
    CHECK(sailors({false, true}) == 1);
    CHECK(sailors({true, true}) == 2);
  }

  TEST_CASE("nobody comes: scenes with parts are not filmed, those that need nobody are") {
    const Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "Alone",
      "days": [{"date": "2027-04-17", "nobody_before": "08:00"}],
      "people": [{"id": "ada", "answer": "maybe"}, {"id": "bo", "answer": "no"}],
      "roles": [{"id": "keeper", "person": "ada"}, {"id": "gulls", "crowd": true}],
      "scenes": [{"id": "lamp", "shoot_minutes": 10, "cast": [{"role": "keeper"}]},
                 {"id": "cliff", "shoot_minutes": 10, "cast": [{"role": "gulls", "people": 2}]},
                 {"id": "sea", "shoot_minutes": 10}]})");
    const Plan plan = planned(film, quick(1));
    check_right(film, plan);
    REQUIRE(plan.not_filmed.size() == 1);
    CHECK(plan.not_filmed[0].scene == gp::SceneId(0));
    CHECK(plan.not_filmed[0].why == "ada, who plays keeper, has not said yes");
    REQUIRE(plan.unfilled.size() == 1);
    CHECK(plan.unfilled[0].missing == 2);
    CHECK(plan.days[0].scenes.size() == 2);
    CHECK(plan.days[0].people.empty());
    CHECK(plan.totals.on_site == 0);
  }

  TEST_CASE("no scenes, no people, nothing to plan: an empty day") {
    for (const std::string more :
         {"",
          R"(, "people": [{"id": "ada"}])",
          R"(, "people": [{"id": "ada"}], "scenes": [{"id": "nothing"}])"}) {
      CAPTURE(more);
      const Production film = gp::test::production_of(
          R"({"greasepaint": 1, "title": "Empty", "days": [{"date": "2027-04-17"}])" + more + "}");
      const Plan plan = planned(film, quick(1));
      check_right(film, plan);
      REQUIRE(plan.days.size() == 1);
      CHECK(plan.days[0].people.empty());
      CHECK(plan.not_filmed.empty());
      CHECK(plan.totals.on_site == 0);
      CHECK(plan.totals.proven);
    }
  }
}
