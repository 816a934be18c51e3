#include "prep/counted_use.h"

#include "base/random.h"
#include "support/seed.h"

#include <map>
#include <utility>
#include <vector>

#include <doctest/doctest.h>

using gp::minute;
using gp::Minute;
using gp::Minutes;
using gp::Span;

TEST_SUITE("prep/counted_use") {
  TEST_CASE("room and the last full minute are those of counting each minute [brute force]") {
    gp::Random random(gp::test::seed());
    int room = 0;
    int full = 0;
    for (int round = 0; round < 60; ++round) {
      const int capacity = random.between(1, 5);
      gp::CountedUse use(capacity);
      std::map<int, int> used;
      std::vector<std::pair<Span, int>> taken;
      for (int change = 0; change < 60; ++change) {
        CAPTURE(round);
        CAPTURE(change);
        // From the evening before to the second night after.
        const int from = random.between(-300, 300);
        const Span span{minute(from), minute(from + random.between(0, 120))};
        const int more = random.between(1, 3);
        bool fits = more <= capacity;
        Minute last = gp::kAlwaysBefore;
        for (Minute m = span.from; m < span.until; m += Minutes{1}) {
          if (used[gp::count(m)] + more <= capacity) continue;
          fits = false;
          last = m;
        }
        CHECK(use.has_room(span, more) == fits);
        CHECK(use.last_full(span, more) == last);
        ++(fits ? room : full);
        if (fits) {
          use.add(span, more);
          taken.emplace_back(span, more);
          for (Minute m = span.from; m < span.until; m += Minutes{1}) used[gp::count(m)] += more;
        } else if (!taken.empty()) {
          const std::size_t which = random.index(taken.size());
          const auto [old, amount] = taken[which];
          use.add(old, -amount);
          taken.erase(taken.begin() + static_cast<std::ptrdiff_t>(which));
          for (Minute m = old.from; m < old.until; m += Minutes{1}) used[gp::count(m)] -= amount;
        }
      }
    }
    CHECK(room > 500);
    CHECK(full > 500);
  }

  TEST_CASE("four helmets for seven guards: the fifth waits until one is given back") {
    gp::CountedUse helmets(4);
    for (int guard = 0; guard < 4; ++guard) helmets.add({minute(540), minute(600 + guard)}, 1);
    CHECK_FALSE(helmets.has_room({minute(590), minute(620)}, 1));
    // The first comes back at 600: 599 is the last minute with none.
    CHECK(helmets.last_full({minute(590), minute(620)}, 1) == minute(599));
    CHECK(helmets.has_room({minute(600), minute(620)}, 1));
    CHECK_FALSE(helmets.has_room({minute(600), minute(620)}, 2));
    CHECK(helmets.last_full({minute(600), minute(620)}, 4) == minute(602));
    for (int guard = 0; guard < 4; ++guard) helmets.add({minute(540), minute(600 + guard)}, -1);
    CHECK(helmets.has_room({minute(540), minute(620)}, 4));
    CHECK_FALSE(helmets.has_room({minute(540), minute(620)}, 5));
  }

  TEST_CASE("before midnight and past 24 hours are kept apart from the day") {
    gp::CountedUse lamp(1);
    lamp.add({minute(-60), minute(-30)}, 1);
    lamp.add({minute(99 * 60), minute(100 * 60)}, 1);
    CHECK_FALSE(lamp.has_room({minute(-31), minute(0)}, 1));
    CHECK(lamp.has_room({minute(-30), minute(99 * 60)}, 1));
    CHECK_FALSE(lamp.has_room({minute(100 * 60 - 1), minute(100 * 60)}, 1));
  }
}
