#include "time/zone_rule.h"

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("time/zone_rule");

using gp::ZoneRule;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using std::chrono::sys_days;
using std::chrono::year;

namespace {

/// The changes of a year as "month-day hour:minute" of UTC and the new offset in minutes.
std::string changes(const char* text, int of_year) {
  const auto rule = ZoneRule::parse(text);
  REQUIRE(rule);
  std::string result;
  for (const gp::OffsetChange& change : rule->changes(year(of_year))) {
    const auto day = std::chrono::floor<days>(change.at);
    const std::chrono::year_month_day date = day;
    const auto time = std::chrono::duration_cast<minutes>(change.at - day).count();
    result += std::to_string(static_cast<unsigned>(date.month())) + "-" +
              std::to_string(static_cast<unsigned>(date.day())) + " " + std::to_string(time / 60) +
              ":" + std::to_string(time % 60) + " " +
              std::to_string(std::chrono::duration_cast<minutes>(change.offset).count()) + "; ";
  }
  return result;
}

}  // namespace

TEST_CASE("rules at the end of zone files, on known nights") {
  // London and New York 2026 (the dates of RFC 5545's own kind: last Sunday, second, first Sunday)
  CHECK(changes("GMT0BST,M3.5.0/1,M10.5.0", 2026) == "3-29 1:0 60; 10-25 1:0 0; ");
  CHECK(changes("EST5EDT,M3.2.0,M11.1.0", 2026) == "3-8 7:0 -240; 11-1 6:0 -300; ");
  // Dublin, where summer is standard and winter the exception
  CHECK(changes("IST-1GMT0,M10.5.0,M3.5.0/1", 2026) == "3-29 1:0 60; 10-25 1:0 0; ");
  // south of the equator the year begins in summer; half an hour on Lord Howe
  CHECK(changes("<+1030>-10:30<+11>-11,M10.1.0,M4.1.0", 2025) == "4-5 15:0 630; 10-4 15:30 660; ");
  // RFC 8536 section 3.3.1: "<-03>3<-02>,M3.5.0/-2,M10.5.0/-1" is West Greenland: changes at
  // 22:00 the evening before, 01:00 UTC as everywhere in Europe. 2026: 29 March, 25 October.
  CHECK(changes("<-03>3<-02>,M3.5.0/-2,M10.5.0/-1", 2026) == "3-29 1:0 -120; 10-25 1:0 -180; ");
  // hours past a day: Thursday after the fourth Thursday's midnight plus 50 h is Saturday 02:00
  CHECK(changes("EET-2EEST,M3.4.4/50,M10.4.4/50", 2026) == "3-28 0:0 180; 10-23 23:0 120; ");
}

TEST_CASE("days of the year, with and without the leap day") {
  // J60 is 1 March in every year; 59 counts from nought and so is 29 February in a leap year
  CHECK(changes("AAA0BBB,J60/0,J365/0", 2028) == "3-1 0:0 60; 12-30 23:0 0; ");
  CHECK(changes("AAA0BBB,J60/0,J365/0", 2027) == "3-1 0:0 60; 12-30 23:0 0; ");
  CHECK(changes("AAA0BBB,59/0,364/0", 2028) == "2-29 0:0 60; 12-29 23:0 0; ");
  CHECK(changes("AAA0BBB,59/0,364/0", 2027) == "3-1 0:0 60; 12-30 23:0 0; ");
}

TEST_CASE("a rule without summer, and summer all year") {
  CHECK(changes("<+0545>-5:45", 2040).empty());
  const auto kathmandu = ZoneRule::parse("<+0545>-5:45");
  REQUIRE(kathmandu);
  CHECK(kathmandu->offset(sys_days(year(2040) / 7 / 1)) == minutes(345));
  // RFC 8536 section 3.3.1: "XXX3EDT4,0/0,J365/23" is summer time, 4 h west, from 1 January 00:00
  // to 31 December 23:00 of standard time, which is the same moment as the next 1 January 00:00
  const auto all_year = ZoneRule::parse("XXX3EDT4,0/0,J365/23");
  REQUIRE(all_year);
  for (int day = 0; day < 366; ++day) {
    const auto moment = sys_days(year(2040) / 1 / 1) + days(day) + hours(3);
    CHECK(all_year->offset(moment) == -hours(4));
  }
}

TEST_CASE("an offset holds from its second on") {
  const auto rule = ZoneRule::parse("GMT0BST,M3.5.0/1,M10.5.0");
  REQUIRE(rule);
  const auto change = sys_days(year(2026) / 3 / 29) + hours(1);
  CHECK(rule->offset(change - seconds(1)) == hours(0));
  CHECK(rule->offset(change) == hours(1));
  CHECK(rule->offset(sys_days(year(2026) / 1 / 1)) == hours(0));
  CHECK(rule->offset(sys_days(year(2026) / 12 / 31)) == hours(0));
}

TEST_CASE("what is no rule is none") {
  for (const std::string text : {"",
                                 "GMT",
                                 "0",
                                 "GMT0BST",
                                 "GMT0BST,M3.5.0/1",
                                 "GMT0BST,M3.5.0/1,",
                                 "GMT0BST,M13.5.0,M10.5.0",
                                 "GMT0BST,M3.6.0,M10.5.0",
                                 "GMT0BST,M3.5.7,M10.5.0",
                                 "GMT0BST,M0.1.0,M10.5.0",
                                 "GMT0BST,M3.0.0,M10.5.0",
                                 "GMT0BST,J0,J10",
                                 "GMT0BST,J366,J10",
                                 "GMT0BST,M3.5.0/1,M10.5.0 ",
                                 "GMT168",
                                 "<GMT0",
                                 "GM0",
                                 "GMT0:60",

                                 "GMT0BST,M3.5.0/168,M10.5.0"}) {
    CAPTURE(text);
    CHECK_FALSE(ZoneRule::parse(text));
  }
}

TEST_SUITE_END();
