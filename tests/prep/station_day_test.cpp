#include "prep/station_day.h"

#include "base/random.h"
#include "support/seed.h"

#include <algorithm>
#include <optional>
#include <vector>

#include <doctest/doctest.h>

using gp::minute;
using gp::Minute;
using gp::Minutes;
using gp::Span;

namespace {

using Chairs = std::vector<std::vector<Span>>;

bool has_room(const std::vector<Span>& chair, Span wanted) {
  return std::none_of(
      chair.begin(), chair.end(), [&](const Span& taken) { return taken.overlaps(wanted); });
}

/// When the chair is next taken after a span.
Minute next_taken(const std::vector<Span>& chair, Span wanted) {
  Minute next = gp::kNever;
  for (const Span& taken : chair) {
    if (taken.from >= wanted.until) next = std::min(next, taken.from);
  }
  return next;
}

/// When the chair was last taken before a span.
Minute last_taken(const std::vector<Span>& chair, Span wanted) {
  Minute last = gp::kAlwaysBefore;
  for (const Span& taken : chair) {
    if (taken.until <= wanted.from) last = std::max(last, taken.until);
  }
  return last;
}

}  // namespace

TEST_SUITE("prep/station_day") {
  TEST_CASE(
      "the latest and the earliest free chair are those of trying every minute [brute force]") {
    gp::Random random(gp::test::seed());
    int answered = 0;
    int refused = 0;
    for (int round = 0; round < 300; ++round) {
      const int places = random.between(1, 4);
      gp::StationDay station(places);
      Chairs chairs(static_cast<std::size_t>(places));
      for (int change = 0; change < 40; ++change) {
        const auto chair = random.index(chairs.size());
        auto& taken = chairs[chair];
        if (!taken.empty() && random.chance(1, 4)) {
          const std::size_t which = random.index(taken.size());
          station.release(static_cast<int>(chair), taken[which]);
          taken.erase(taken.begin() + static_cast<std::ptrdiff_t>(which));
        } else {
          const Minute from = minute(random.between(0, 240));
          const Span span{from, from + Minutes{random.between(random.chance(1, 9) ? 0 : 1, 25)}};
          if (has_room(taken, span)) {
            station.take(static_cast<int>(chair), span);
            taken.push_back(span);
          }
        }
        CAPTURE(round);
        CAPTURE(change);
        const Minutes length{random.between(random.chance(1, 9) ? 0 : 1, 40)};
        const Minute start = minute(random.between(0, 260));
        const Minute limit = minute(random.between(-20, 200));
        const auto free_at = [&](Minute at) {
          return std::any_of(chairs.begin(), chairs.end(), [&](const std::vector<Span>& one) {
            return has_room(one, {at, at + length});
          });
        };
        std::optional<Minute> latest;
        for (Minute at = start; at >= limit && !latest; at -= Minutes{1}) {
          if (free_at(at)) latest = at;
        }
        const auto found = station.latest(start, length, limit);
        REQUIRE(found.has_value() == latest.has_value());
        if (found) {
          CHECK(found->start == *latest);
          const Span span{*latest, *latest + length};
          const auto& one = chairs[static_cast<std::size_t>(found->place)];
          CHECK(has_room(one, span));
          // Of the chairs free then, none is taken again sooner.
          for (const auto& other : chairs) {
            if (has_room(other, span)) CHECK(next_taken(one, span) <= next_taken(other, span));
          }
        }
        ++(found ? answered : refused);

        const Minute not_after = start + Minutes{random.between(0, 90)};
        std::optional<Minute> earliest;
        for (Minute at = start; at + length <= not_after && !earliest; at += Minutes{1}) {
          if (free_at(at)) earliest = at;
        }
        const auto first = station.earliest(start, length, not_after);
        REQUIRE(first.has_value() == earliest.has_value());
        if (first) {
          CHECK(first->start == *earliest);
          const Span span{*earliest, *earliest + length};
          const auto& one = chairs[static_cast<std::size_t>(first->place)];
          CHECK(has_room(one, span));
          for (const auto& other : chairs) {
            if (has_room(other, span)) CHECK(last_taken(one, span) >= last_taken(other, span));
          }
        }
        ++(first ? answered : refused);
      }
      station.clear();
      const auto anything = station.latest(minute(500), Minutes{400}, minute(0));
      REQUIRE(anything);
      CHECK(anything->start == minute(500));
    }
    CHECK(answered > 1000);
    CHECK(refused > 1000);
  }

  TEST_CASE(
      "of two free chairs the one with the tighter gap is taken, so that long gaps stay whole") {
    gp::StationDay station(2);
    station.take(0, {minute(100), minute(110)});
    station.take(1, {minute(60), minute(70)});
    // Back from 60 for 10 minutes: both are free 50-60; chair 1 is taken again at once.
    const auto latest = station.latest(minute(50), Minutes{10}, minute(0));
    REQUIRE(latest);
    CHECK(latest->start == minute(50));
    CHECK(latest->place == 1);
    // On from 110: both are free; chair 0 was taken until just then.
    const auto earliest = station.earliest(minute(110), Minutes{10}, minute(200));
    REQUIRE(earliest);
    CHECK(earliest->start == minute(110));
    CHECK(earliest->place == 0);
  }
}
