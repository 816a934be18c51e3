#include "time/day_clock.h"

#include "base/errors.h"
#include "base/random.h"
#include "support/seed.h"
#include "time/clock.h"
#include "time/rows.h"

#include <algorithm>
#include <thread>

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("time/day_clock");

using gp::CalendarDay;
using gp::minute;
using gp::WallTime;

namespace {

gp::Date date(const std::string& text) {
  return gp::parse_date(text).value();
}

CalendarDay on(const std::string& zone, const std::string& day) {
  return CalendarDay(date(day), zone);
}

/// Elapsed minutes at a reading, as a bare number.
int at(const CalendarDay& day, const std::string& reading) {
  return gp::count(day.elapsed(gp::parse_wall_time(reading).value()));
}

/// The reading at a moment; "none" in the second pass of a doubled hour.
std::string reads(const CalendarDay& day, int moment) {
  const auto wall = day.wall(minute(moment));
  return wall ? gp::format(*wall) : "none";
}

std::string in_utc(const CalendarDay& day, const std::string& reading) {
  const auto moment = day.utc(day.elapsed(gp::parse_wall_time(reading).value()));
  const auto whole = std::chrono::floor<std::chrono::days>(moment);
  const auto rest = std::chrono::duration_cast<std::chrono::minutes>(moment - whole);
  return gp::format(gp::Date(whole)) + " " +
         gp::format(WallTime{static_cast<std::int32_t>(rest.count())});
}

}  // namespace

TEST_CASE("zones are those of the database, by their exact names") {
  CHECK(gp::is_zone("Europe/Dublin"));
  CHECK(gp::is_zone("Asia/Kathmandu"));
  CHECK(gp::is_zone("UTC"));
  for (const std::string name : {"",
                                 "Europe/Dublim",
                                 "europe/dublin",
                                 "Europe",
                                 "Europe/",
                                 "localtime",
                                 "posixrules",
                                 "tzdata.zi",
                                 "zone.tab",
                                 "leapseconds",
                                 "../../etc/passwd",
                                 "/usr/share/zoneinfo/Europe/Dublin",
                                 "posix/Europe/Dublin",
                                 "right/Europe/Dublin",
                                 "UTC\n"}) {
    CAPTURE(name);
    CHECK_FALSE(gp::is_zone(name));
  }
  const auto names = gp::zone_names();
  CHECK(names.size() > 400);
  CHECK(std::is_sorted(names.begin(), names.end()));
  CHECK(std::adjacent_find(names.begin(), names.end()) == names.end());
  for (const std::string& name : names) {
    CAPTURE(name);
    CHECK(gp::is_zone(name));
    CHECK(gp::date_exists(date("2027-06-01"), name));
  }
}

TEST_CASE("a zone or a date that is not there is our own mistake by now") {
  CHECK_THROWS_AS(on("Europe/Dublim", "2027-04-17"), gp::InternalError);
  CHECK_THROWS_AS(on("Pacific/Apia", "2011-12-30"), gp::InternalError);
  CHECK_THROWS_AS(gp::date_exists(date("2027-04-17"), "nowhere"), gp::InternalError);
}

TEST_CASE("Samoa had no 30 December 2011") {
  // it moved to the other side of the date line: tz database, file australasia
  CHECK(gp::date_exists(date("2011-12-29"), "Pacific/Apia"));
  CHECK_FALSE(gp::date_exists(date("2011-12-30"), "Pacific/Apia"));
  CHECK(gp::date_exists(date("2011-12-31"), "Pacific/Apia"));
  CHECK(gp::date_exists(date("2011-12-30"), "Pacific/Auckland"));
  const CalendarDay day = on("Pacific/Apia", "2011-12-29");
  CHECK(at(day, "23:59") == 1439);
  CHECK(at(day, "48:00") == 1440);  // midnight of the 31st comes right after the 29th
  CHECK(reads(day, 1439) == "23:59");
  CHECK(reads(day, 1440) == "48:00");
  CHECK(day.unnameable().empty());
}

TEST_CASE("the readings of RFC 5545 section 3.3.5") {
  // "19970714T133000 in America/New_York is 19970714T173000Z"; twice: the first; skipped: by the
  // offset before the gap. Both worked out in the text of the standard.
  CHECK(in_utc(on("America/New_York", "1997-07-14"), "13:30") == "1997-07-14 17:30");
  CHECK(in_utc(on("America/New_York", "2007-11-04"), "01:30") == "2007-11-04 05:30");
  CHECK(in_utc(on("America/New_York", "2007-03-11"), "02:30") == "2007-03-11 07:30");
  // the same rule elsewhere, computed with Python 3.11's zoneinfo
  CHECK(in_utc(on("Europe/London", "2026-10-25"), "01:30") == "2026-10-25 00:30");
  CHECK(in_utc(on("Europe/London", "2026-03-29"), "01:30") == "2026-03-29 01:30");
  CHECK(in_utc(on("Australia/Sydney", "2026-04-05"), "02:30") == "2026-04-04 15:30");
  CHECK(in_utc(on("Australia/Sydney", "2026-10-04"), "02:30") == "2026-10-03 16:30");
  CHECK(in_utc(on("Europe/London", "2026-07-04"), "07:30") == "2026-07-04 06:30");
  CHECK(in_utc(on("Asia/Kathmandu", "2026-07-04"), "07:30") == "2026-07-04 01:45");
}

TEST_CASE("in autumn an hour comes twice, and its second pass has no name") {
  // clocks go back from 02:00 to 01:00: reading 01:00-02:00 is 60-120 and again 120-180 elapsed
  for (const auto& [zone, day_text] : {std::pair{"Europe/London", "2025-10-26"},
                                       std::pair{"Europe/Dublin", "2025-10-26"},
                                       std::pair{"America/New_York", "2025-11-02"}}) {
    CAPTURE(zone);
    const CalendarDay day = on(zone, day_text);
    CHECK(at(day, "00:59") == 59);
    CHECK(at(day, "01:30") == 90);
    CHECK(at(day, "01:59") == 119);
    CHECK(at(day, "02:00") == 180);
    CHECK(at(day, "09:00") == 600);
    CHECK(reads(day, 119) == "01:59");
    CHECK(reads(day, 120) == "none");
    CHECK(reads(day, 179) == "none");
    CHECK(reads(day, 180) == "02:00");
    CHECK(day.shown(minute(150)) == WallTime{90});
    CHECK(day.unnameable() == std::vector<gp::Span>{{minute(120), minute(180)}});
  }
}

TEST_CASE("in spring an hour is skipped, and its readings mean the hour after") {
  const CalendarDay london = on("Europe/London", "2025-03-30");  // 01:00 becomes 02:00
  CHECK(at(london, "00:59") == 59);
  CHECK(at(london, "01:00") == 60);
  CHECK(at(london, "01:30") == 90);  // reads 02:30 by then
  CHECK(at(london, "02:30") == 90);
  CHECK(at(london, "09:00") == 480);
  CHECK(reads(london, 59) == "00:59");
  CHECK(reads(london, 60) == "02:00");
  CHECK(reads(london, 90) == "02:30");
  CHECK(london.unnameable().empty());
  const CalendarDay new_york = on("America/New_York", "2025-03-09");  // 02:00 becomes 03:00
  CHECK(at(new_york, "02:30") == 150);
  CHECK(at(new_york, "03:30") == 150);
  CHECK(reads(new_york, 150) == "03:30");
}

TEST_CASE("half an hour on Lord Howe Island") {
  const CalendarDay autumn = on("Australia/Lord_Howe", "2025-04-06");  // 02:00 becomes 01:30
  CHECK(at(autumn, "01:45") == 105);
  CHECK(at(autumn, "02:00") == 150);
  CHECK(autumn.unnameable() == std::vector<gp::Span>{{minute(120), minute(150)}});
  const CalendarDay spring = on("Australia/Lord_Howe", "2025-10-05");  // 02:00 becomes 02:30
  CHECK(at(spring, "02:15") == 135);
  CHECK(at(spring, "02:45") == 135);
  CHECK(reads(spring, 135) == "02:45");
}

TEST_CASE("a midnight that is skipped: the day begins at one o'clock") {
  const CalendarDay day = on("America/Sao_Paulo", "2018-11-04");  // 00:00 becomes 01:00
  CHECK(gp::date_exists(date("2018-11-04"), "America/Sao_Paulo"));
  CHECK(at(day, "00:00") == 0);
  CHECK(at(day, "00:30") == 30);
  CHECK(at(day, "01:00") == 0);
  CHECK(at(day, "01:30") == 30);
  CHECK(reads(day, 0) == "01:00");
  CHECK(in_utc(day, "00:00") == "2018-11-04 03:00");
}

TEST_CASE("a clock set back in the night after the day counts from that day's midnight") {
  const CalendarDay day = on("Europe/London", "2025-10-25");
  CHECK(at(day, "25:30") == 1530);  // first pass
  CHECK(at(day, "26:00") == 1620);  // 26 h + the hour that came again
  CHECK(day.unnameable() == std::vector<gp::Span>{{minute(1560), minute(1620)}});
}

TEST_CASE("an ordinary day is its own clock") {
  const CalendarDay day = on("Asia/Kathmandu", "2027-04-17");
  for (int m = -600; m < 6000; ++m) {
    REQUIRE(gp::count(day.elapsed(WallTime{m})) == m);
    REQUIRE(day.wall(minute(m)) == WallTime{m});
  }
  CHECK(day.unnameable().empty());
  using std::chrono::milliseconds;
  // 90 s after midnight is a minute and a half
  CHECK(day.minutes_at(day.utc(minute(0)) + milliseconds(90'000)) == doctest::Approx(1.5));
}

TEST_CASE("every reading of Python's zoneinfo") {
  // tests/data/make_zone_clock.py: 26 change-over nights with the days around them, and 500 draws
  int readings = 0;
  for (const auto& row : gp::test::rows_of("zone_clock.csv")) {
    REQUIRE(row.size() == 5);
    INFO(row[0], " ", row[1], " ", row[3]);
    const CalendarDay day = on(row[0], row[1]);
    CHECK(at(day, row[3]) == std::stoi(row[4]));
    const std::string midnight = row[2].substr(0, 10) + " " + row[2].substr(11, 5);
    const auto moment = day.utc(minute(0));
    const auto whole = std::chrono::floor<std::chrono::days>(moment);
    const auto rest = std::chrono::duration_cast<std::chrono::minutes>(moment - whole);
    CHECK(gp::format(gp::Date(whole)) + " " +
              gp::format(WallTime{static_cast<std::int32_t>(rest.count())}) ==
          midnight);
    ++readings;
  }
  CHECK(readings > 3000);
}

TEST_CASE("every minute has one reading or is told to have none, on any day in any zone") {
  gp::Random random(gp::test::seed());
  const auto names = gp::zone_names();
  int doubled = 0;
  int skipped = 0;
  for (int round = 0; round < 1500; ++round) {
    const std::string& zone = names[random.index(names.size())];
    // any day, and as often one in the weeks in which most clocks change
    const std::chrono::year year(random.between(1973, 2036));
    const bool spring = random.chance(1, 2);
    const std::chrono::sys_days first = random.chance(1, 2) ? year / 1 / 1
                                        : spring            ? year / 3 / 8
                                                            : year / 10 / 20;
    const bool any_day = gp::Date(first).month() == std::chrono::January;
    const gp::Date day_date = first + std::chrono::days(random.below(any_day ? 365 : 28));
    if (!gp::date_exists(day_date, zone)) continue;
    const CalendarDay day(day_date, zone);
    INFO(zone, " ", gp::format(day_date), " seed ", gp::test::seed());
    // one check a day, not one a minute: a check costs far more than what it checks
    int wrong_at = -1;
    for (int m = 0; m < 6000; ++m) {
      const gp::Minute moment = minute(m);
      const bool unnamed =
          std::any_of(day.unnameable().begin(), day.unnameable().end(), [&](gp::Span span) {
            return span.from <= moment && moment < span.until;
          });
      const auto wall = day.wall(moment);
      const bool right =
          wall ? !unnamed && day.elapsed(*wall) == moment && day.shown(moment) == *wall : unnamed;
      if (!right) wrong_at = m;
    }
    REQUIRE(wrong_at == -1);
    for (int w = 0; w < 6000; ++w) {
      const gp::Minute moment = day.elapsed(WallTime{w});
      const auto wall = day.wall(moment);
      // a reading never means a second pass; only a skipped one is told another way afterwards,
      // and always as a later one
      if (!wall || day.elapsed(*wall) != moment || wall->minutes < w) wrong_at = w;
    }
    REQUIRE(wrong_at == -1);
    if (!day.unnameable().empty()) ++doubled;
    if (gp::count(day.elapsed(WallTime{5999})) < 5999) ++skipped;
  }
  CHECK(doubled > 0);  // or the draw proved nothing
  CHECK(skipped > 0);
}

TEST_CASE("several threads may be the first to ask for a zone") {
  std::vector<std::thread> threads;
  std::vector<int> elapsed(8);
  for (std::size_t i = 0; i < elapsed.size(); ++i) {
    threads.emplace_back([i, &elapsed] {
      elapsed[i] = at(on("Europe/Lisbon", "2025-10-26"), i % 2 == 0 ? "03:00" : "04:00");
    });
  }
  for (auto& thread : threads) thread.join();
  // Lisbon: 02:00 becomes 01:00
  for (std::size_t i = 0; i < elapsed.size(); ++i) CHECK(elapsed[i] == (i % 2 == 0 ? 240 : 300));
}

TEST_SUITE_END();
