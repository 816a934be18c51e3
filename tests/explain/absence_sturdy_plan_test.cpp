#include "explain/absence/sturdy_plan.h"
#include "model/price.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <atomic>
#include <chrono>
#include <cmath>
#include <cstdint>
#include <thread>

#include <doctest/doctest.h>

TEST_SUITE("explain/absence_sturdy_plan") {
  // The king: ana (0.6) or bo (0.9). Whoever comes first in the file is taken first, so bo is
  // behind the camera and cannot stand in: 0.6. With cleo at the camera bo can: 1 - 0.4 * 0.1 =
  // 0.96.
  const char* const kSpare = R"({"greasepaint": 1, "title": "t",
    "days": [{"date": "2027-04-17", "first_shot": "10:00", "wrap_by": "12:00"}],
    "people": [{"id": "ana", "turnout": 0.6}, {"id": "bo"}, {"id": "cleo"}],
    "roles": [{"id": "king", "from": ["ana", "bo"]}],
    "scenes": [{"id": "hall", "shoot_minutes": 20, "cast": [{"role": "king"}],
                "crew": [{"job": "camera", "from": ["bo", "cleo"]}]}]})";

  TEST_CASE("a possible stand-in is kept free, for no more time on site; the same each time") {
    const gp::Production film = gp::test::production_of(kSpare);
    gp::Wishes wishes;
    wishes.effort = 0.1;
    gp::Stop stop;
    const gp::Plan plain = gp::make_plan(film, wishes, stop);
    const auto before = gp::absence::survival_of(film, plain, wishes.answers).all_filmed;
    const auto sturdy = gp::absence::plan_for_absences(film, wishes, stop, {}, 0);
    CHECK(sturdy.ordinary == gp::price(film, plain));
    CHECK(sturdy.ordinary_chance == before);
    CHECK(std::abs(before.chance - 0.6) < 1e-12);
    CHECK(std::abs(sturdy.survival.all_filmed.chance - 0.96) < 1e-12);
    CHECK(gp::check(film, sturdy.plan, wishes.answers).empty());
    CHECK(gp::price(film, sturdy.plan).on_site <= sturdy.ordinary.on_site);
    gp::Stop again;
    gp::Plan other = gp::absence::plan_for_absences(film, wishes, again, {}, 0).plan;
    other.totals.seconds = sturdy.plan.totals.seconds;
    CHECK(other == sturdy.plan);
  }

  TEST_CASE(
      "random productions: right, doing as much, never less likely, never dearer than allowed") {
    for (std::uint64_t i = 0; i < 12; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::small()));
      gp::Wishes wishes;
      wishes.effort = 0.05;
      gp::Stop stop;
      const auto sturdy = gp::absence::plan_for_absences(film, wishes, stop, {}, 0.2);
      CHECK(gp::check(film, sturdy.plan, wishes.answers).empty());
      const gp::Price cost = gp::price(film, sturdy.plan);
      CHECK(cost.not_filmed <= sturdy.ordinary.not_filmed);
      CHECK(cost.unfilled <= sturdy.ordinary.unfilled);
      CHECK(cost.weighted_on_site * 5 <= sturdy.ordinary.weighted_on_site * 6 + 1);
      CHECK(sturdy.survival.all_filmed.chance >=
            sturdy.ordinary_chance.chance - gp::absence::kSmallLoss);
      if (sturdy.survival.all_filmed.exact) {
        CHECK(sturdy.survival.all_filmed.chance <= sturdy.at_most + 1e-9);
      }
    }
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

  TEST_CASE("asked to stop in the middle, it ends at once with the best plan so far") {
    const gp::Production film = gp::test::production_of(
        gp::test::random_production(gp::test::seed(), gp::test::ProductionSize::medium()));
    gp::Wishes wishes;
    wishes.effort = 400;  // minutes of work
    std::atomic<bool> asked{false};
    std::chrono::steady_clock::time_point when;
    std::jthread later([&] {
      std::this_thread::sleep_for(std::chrono::milliseconds(150));
      when = std::chrono::steady_clock::now();
      asked = true;
    });
    gp::Stop stop(std::nullopt, &asked);
    const auto sturdy = gp::absence::plan_for_absences(film, wishes, stop);
    const auto end = std::chrono::steady_clock::now();
    later.join();
    const double late = std::chrono::duration<double>(end - when).count();
    MESSAGE("ended " << late << " s later");
    CHECK(late < 1.0);  // 0.1 s at rest; the margin is for busy machines and sanitizers
    CHECK(gp::check(film, sturdy.plan).empty());
  }
}
