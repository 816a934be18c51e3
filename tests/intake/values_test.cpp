#include "intake/values.h"

#include <doctest/doctest.h>

using namespace gp;

TEST_SUITE("intake/values") {
  TEST_CASE("lengths are read as people write them") {
    CHECK(minutes_of("30") == Minutes{30});
    CHECK(minutes_of("30 min") == Minutes{30});
    CHECK(minutes_of("45'") == Minutes{45});
    CHECK(minutes_of("1 h 30") == Minutes{90});
    CHECK(minutes_of("1h30m") == Minutes{90});
    CHECK(minutes_of("1:30") == Minutes{90});
    CHECK(minutes_of("1.5 hours") == Minutes{90});
    CHECK(minutes_of("90 s") == Minutes{2});  // a minute and a half, rounded up
    for (const char* const none : {"", "soon", "-5", "30 20", "5 min 1 h", "9999", "1:75", "1:3"}) {
      CAPTURE(none);
      CHECK_FALSE(minutes_of(none).has_value());
    }
  }

  TEST_CASE("words of a list come back as they were") {
    CHECK(list_words("light, dance;  paint\n sew ,light") ==
          std::vector<std::string>{"light", "dance", "paint", "sew"});
    const std::vector<std::string> hard = {"a, b", "c; d", "e\\f", "\\"};
    CHECK(list_words(listed_words(hard)) == hard);
  }

  TEST_CASE("a date that could be two is none") {
    CHECK_FALSE(date_of("3/4/2015", DateOrder::unknown).has_value());
    CHECK_FALSE(date_of("3/4/15", DateOrder::day_first).has_value());
    CHECK_FALSE(date_of("31/2/2015", DateOrder::day_first).has_value());
    CHECK(date_of("4/4/2015", DateOrder::unknown).has_value());
    CHECK(date_of("3.4.2015", DateOrder::unknown) ==
          Date(std::chrono::year(2015), std::chrono::month(4), std::chrono::day(3)));
  }
}
