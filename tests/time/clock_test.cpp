#include "time/clock.h"

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("time/clock");

using gp::WallTime;

namespace {

std::optional<std::int32_t> minutes(const char* text) {
  const auto time = gp::parse_wall_time(text);
  if (!time) return std::nullopt;
  return time->minutes;
}

}  // namespace

TEST_CASE("a time reads as a clock does, and may pass midnight") {
  CHECK(minutes("00:00") == 0);
  CHECK(minutes("09:30") == 570);  // 9 * 60 + 30
  CHECK(minutes("24:00") == 1440);
  CHECK(minutes("25:30") == 1530);  // half past one in the night after
  CHECK(minutes("99:59") == 5999);
  CHECK(gp::kLatestWallTime.minutes == 5999);
}

TEST_CASE("what is no time is refused, and never half read") {
  for (const std::string text :
       {"",       "9:30",  "009:30", "100:00", "09:60",    "09:3",  "09:300", " 9:30",
        "09:30 ", "09.30", "0930",   "+9:30",  "-1:30",    "09:-1", "0x:10",  "a9:30",
        "09:3o",  ":",     "09:",    ":30",    "09:30:00", "٠٩:٣٠"}) {
    CAPTURE(text);
    CHECK_FALSE(gp::parse_wall_time(text));
  }
  CHECK_FALSE(gp::parse_wall_time(std::string_view("09:3\0", 5)));
}

TEST_CASE("a span is two times with a hyphen and nothing else") {
  const auto span = gp::parse_wall_span("12:00-14:30");
  REQUIRE(span);
  CHECK(span->from == WallTime{720});
  CHECK(span->until == WallTime{870});
  CHECK(gp::format(*span) == "12:00-14:30");
  // which end comes first is not for this function to judge
  CHECK(gp::parse_wall_span("14:30-12:00"));
  for (const std::string text : {"",
                                 "12:00",
                                 "12:00-",
                                 "-14:30",
                                 "12:00 - 14:30",
                                 "12:00–14:30",
                                 "12:00-14:60",
                                 "24:60-25:00",
                                 "12:00-14:300",
                                 "12:00_14:30"}) {
    CAPTURE(text);
    CHECK_FALSE(gp::parse_wall_span(text));
  }
}

TEST_CASE("every time that can be written is read back from what is printed") {
  for (std::int32_t m = 0; m <= 5999; ++m) {
    const auto back = gp::parse_wall_time(gp::format(WallTime{m}));
    REQUIRE(back);
    REQUIRE(back->minutes == m);
  }
  CHECK(gp::format(WallTime{-30}) == "-00:30");
  CHECK(gp::format(WallTime{6005}) == "100:05");  // 100 * 60 + 5
}

TEST_CASE("dates are calendar dates of ISO 8601 that the calendar has") {
  using std::chrono::day;
  using std::chrono::month;
  using std::chrono::year;
  CHECK(gp::parse_date("2027-04-17") == gp::Date{year(2027), month(4), day(17)});
  CHECK(gp::parse_date("2024-02-29"));
  CHECK(gp::parse_date("2000-02-29"));  // a century that divides by 400 keeps its leap day
  CHECK(gp::parse_date("1900-01-01"));
  CHECK(gp::parse_date("2200-12-31"));
  for (const std::string text :
       {"2027-02-29",       "1900-02-29", "2100-02-29", "2027-00-10", "2027-13-01",
        "2027-04-31",       "2027-04-00", "1899-12-31", "2201-01-01", "27-04-17",
        "2027-4-17",        "2027-04-7",  "20270417",   "2027/04/17", "2027-04-17 ",
        "2027-04-17T09:30", "+027-04-17", "",           "2027-W15-6", "2027-107"}) {
    CAPTURE(text);
    CHECK_FALSE(gp::parse_date(text));
  }
  std::chrono::sys_days at = year(1900) / 1 / 1;
  const std::chrono::sys_days end = year(2200) / 12 / 31;
  for (; at <= end; at += std::chrono::days(1)) {
    const gp::Date date = at;
    REQUIRE(gp::parse_date(gp::format(date)) == date);
  }
}

TEST_SUITE_END();
