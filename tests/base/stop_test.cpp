#include "base/stop.h"

#include <atomic>
#include <chrono>

#include <doctest/doctest.h>

using gp::Stop;

TEST_SUITE("base/stop") {
  TEST_CASE("over, not over, and asked for") {
    const auto now = Stop::Clock::now();
    Stop over(now - std::chrono::hours(1), nullptr);
    Stop later(now + std::chrono::hours(1), nullptr);
    CHECK(over.now_exactly());
    CHECK_FALSE(later.now_exactly());
    std::atomic<bool> asked = false;
    Stop waits(std::nullopt, &asked);
    CHECK_FALSE(waits.now());
    asked = true;
    CHECK(waits.now());
  }

  TEST_CASE("no sooner than in a while, though the time is over; but asked for, at once") {
    const auto now = Stop::Clock::now();
    std::atomic<bool> asked = false;
    const Stop over(now - std::chrono::hours(1), &asked);
    CHECK(over.no_sooner(-7200).now_exactly());
    CHECK_FALSE(over.no_sooner(3600).now_exactly());
    const Stop later(now + std::chrono::hours(1), &asked);
    CHECK_FALSE(later.no_sooner(-7200).now_exactly());
    CHECK_FALSE(Stop().no_sooner(1).has_deadline());
    asked = true;
    CHECK(over.no_sooner(3600).now());
  }
}
