#include "text/dates.h"

#include <chrono>

#include <doctest/doctest.h>

TEST_SUITE("text/dates") {
  // 17 April 2027 is a Saturday: 1 January 2027 was a Friday (ISO 8601 week 53 of 2026), and
  // 106 days after it, 106 mod 7 = 1.
  constexpr gp::Date kDay{std::chrono::year(2027), std::chrono::month(4), std::chrono::day(17)};

  TEST_CASE("a date is written as its readers write it") {
    // CLDR 42, date formats yMMMMEEEEd
    CHECK(gp::long_date(kDay, "en-GB") == "Saturday, 17 April 2027");
    CHECK(gp::long_date(kDay, "de") == "Samstag, 17. April 2027");
    CHECK(gp::long_date(kDay, "fr") == "samedi 17 avril 2027");
    CHECK(gp::long_date(kDay, "es") == "sábado, 17 de abril de 2027");
  }

  TEST_CASE("the short form has no year") {
    CHECK(gp::short_date(kDay, "en-GB") == "Sat, 17 April");
  }

  TEST_CASE("a tag that is none gives a date nevertheless") {
    CHECK(gp::long_date(kDay, "no tag at all").find("2027") != std::string::npos);
  }
}
