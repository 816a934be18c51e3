#include "base/spans.h"

#include <doctest/doctest.h>

namespace {
gp::Span span(int from, int until) {
  return {gp::minute(from), gp::minute(until)};
}
}  // namespace

TEST_SUITE("base/spans") {
  TEST_CASE("spans that only touch share no time, because the end is not part of a span") {
    CHECK_FALSE(span(540, 570).overlaps(span(570, 600)));
    CHECK_FALSE(span(570, 600).overlaps(span(540, 570)));
    CHECK(span(540, 571).overlaps(span(570, 600)));
  }

  TEST_CASE("two spans overlap exactly when some minute lies in both [brute force]") {
    const auto holds = [](gp::Span s, int m) { return count(s.from) <= m && m < count(s.until); };
    for (int a = 0; a < 6; ++a) {
      for (int b = a + 1; b < 7; ++b) {
        for (int c = 0; c < 6; ++c) {
          for (int d = c + 1; d < 7; ++d) {
            bool share = false;
            bool all = true;
            for (int m = 0; m < 7; ++m) {
              share = share || (holds(span(a, b), m) && holds(span(c, d), m));
              all = all && (!holds(span(c, d), m) || holds(span(a, b), m));
            }
            CAPTURE(a);
            CAPTURE(b);
            CAPTURE(c);
            CAPTURE(d);
            CHECK(span(a, b).overlaps(span(c, d)) == share);
            CHECK(span(a, b).covers(span(c, d)) == all);
          }
        }
      }
    }
  }

  TEST_CASE("a span of no length inside another overlaps it, at its edges it does not") {
    CHECK(span(540, 570).overlaps(span(550, 550)));
    CHECK_FALSE(span(540, 570).overlaps(span(540, 540)));
    CHECK_FALSE(span(540, 570).overlaps(span(570, 570)));
  }

  TEST_CASE("its length is elapsed minutes") {
    CHECK(span(540, 571).length() == gp::Minutes{31});
    CHECK(span(540, 540).length() == gp::Minutes{0});
  }
}
