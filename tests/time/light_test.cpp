#include "time/light.h"

#include "base/random.h"
#include "support/seed.h"
#include "time/clock.h"
#include "time/sun.h"

#include <cmath>

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("time/light");

using gp::CalendarDay;
using gp::light_spans;
using gp::LightKind;
using gp::minute;
using gp::Span;

namespace {

CalendarDay on(const std::string& zone, const std::string& day) {
  return CalendarDay(gp::parse_date(day).value(), zone);
}

/// The span that begins within the day.
Span of_the_day(const std::vector<Span>& spans, int after = 0) {
  for (const Span& span : spans) {
    if (span.from >= minute(after) && span.from < minute(after + 1440)) return span;
  }
  FAIL("no such light that day");
  return {};
}

}  // namespace

TEST_CASE("London at midwinter, by the ephemeris table") {
  // astronomy-engine 2.1.19 for 2025-12-21: civil dawn 07:23:32, sunrise 08:03:51, sunset 15:53:33,
  // civil dusk 16:33:51, all UTC, which is the clock in winter. Rounded inward to whole minutes.
  const CalendarDay day = on("Europe/London", "2025-12-21");
  const double lat = 51.5074;
  const double lon = -0.1278;
  CHECK(of_the_day(light_spans(LightKind::day, day, lat, lon)) ==
        Span{minute(8 * 60 + 4), minute(15 * 60 + 53)});
  CHECK(of_the_day(light_spans(LightKind::dusk, day, lat, lon)) ==
        Span{minute(15 * 60 + 54), minute(16 * 60 + 33)});
  const auto golden = light_spans(LightKind::golden, day, lat, lon);
  CHECK(of_the_day(golden) == Span{minute(8 * 60 + 4), minute(9 * 60 + 3)});
  CHECK(of_the_day(golden, 12 * 60) == Span{minute(14 * 60 + 54), minute(15 * 60 + 53)});
  // the night goes on through midnight: 22 December's dawn is at 07:24:02 by the same equations
  CHECK(of_the_day(light_spans(LightKind::dark, day, lat, lon)) ==
        Span{minute(16 * 60 + 34), minute(24 * 60 + 7 * 60 + 24)});
}

TEST_CASE("light is told in elapsed minutes on a night when the clocks change") {
  // London 2026-10-25: sunrise 06:41:38 UTC (the table), five hours and 42 minutes and an hour
  // after a midnight that was 23:00 UTC
  const CalendarDay day = on("Europe/London", "2026-10-25");
  const Span span = of_the_day(light_spans(LightKind::day, day, 51.5074, -0.1278));
  CHECK(span.from == minute(7 * 60 + 42));
  CHECK(day.wall(span.from) == gp::WallTime{6 * 60 + 42});
}

TEST_CASE("midnight sun and polar night") {
  // Tromso (the table): midsummer always above, midwinter always below, with twilight at noon
  const double lat = 69.6492;
  const double lon = 18.9553;
  const CalendarDay summer = on("Europe/Oslo", "2025-06-21");
  const auto all_day = light_spans(LightKind::day, summer, lat, lon);
  REQUIRE(all_day.size() == 1);
  CHECK(all_day[0].covers({minute(-600), minute(2880)}));
  CHECK(light_spans(LightKind::golden, summer, lat, lon).empty());
  CHECK(light_spans(LightKind::dusk, summer, lat, lon).empty());
  CHECK(light_spans(LightKind::dark, summer, lat, lon).empty());
  const CalendarDay winter = on("Europe/Oslo", "2025-12-21");
  CHECK(light_spans(LightKind::day, winter, lat, lon).empty());
  CHECK(light_spans(LightKind::golden, winter, lat, lon).empty());
  CHECK_FALSE(light_spans(LightKind::dusk, winter, lat, lon).empty());
  CHECK_FALSE(light_spans(LightKind::dark, winter, lat, lon).empty());
  // Longyearbyen at midwinter: not even twilight
  const CalendarDay svalbard = on("Arctic/Longyearbyen", "2025-12-21");
  const auto dark = light_spans(LightKind::dark, svalbard, 78.2232, 15.6267);
  REQUIRE(dark.size() == 1);
  CHECK(dark[0].covers({minute(-600), minute(2880)}));
}

TEST_CASE("the kinds of light part the day between them, anywhere") {
  gp::Random random(gp::test::seed());
  for (int round = 0; round < 1500; ++round) {
    const double lat = random.unit() * 120 - 60;
    const double lon = random.unit() * 360 - 180;
    const std::chrono::sys_days first = std::chrono::year(2020) / 1 / 1;
    const gp::Date date = first + std::chrono::days(random.below(7'000));
    const CalendarDay day(date, random.chance(1, 2) ? "UTC" : "Europe/Dublin");
    INFO(lat, " ", lon, " ", gp::format(date), " seed ", gp::test::seed());
    const auto light = light_spans(LightKind::day, day, lat, lon);
    const auto dusk = light_spans(LightKind::dusk, day, lat, lon);
    const auto dark = light_spans(LightKind::dark, day, lat, lon);
    const auto golden = light_spans(LightKind::golden, day, lat, lon);
    for (const auto* spans : {&light, &dusk, &dark, &golden}) {
      for (std::size_t i = 0; i + 1 < spans->size(); ++i) {
        REQUIRE((*spans)[i].until < (*spans)[i + 1].from);
      }
    }
    REQUIRE(light.size() == 4);
    REQUIRE(golden.size() == 8);
    for (std::size_t i = 0; i < light.size(); ++i) {
      REQUIRE(light[i].covers(golden[2 * i]));
      REQUIRE(light[i].covers(golden[2 * i + 1]));
      REQUIRE(golden[2 * i].length() >= gp::Minutes{58});
      REQUIRE(golden[2 * i].length() <= gp::Minutes{60});
      // dusk begins where the day ends, at most two roundings later
      REQUIRE(i < dusk.size());
      REQUIRE(dusk[i].from - light[i].until >= gp::Minutes{0});
      REQUIRE(dusk[i].from - light[i].until <= gp::Minutes{1});
      for (const Span& night : dark) {
        REQUIRE_FALSE(night.overlaps(light[i]));
        REQUIRE_FALSE(night.overlaps(dusk[i]));
      }
    }
    // no minute that is given is outside the true span: compare with the sun itself
    for (int offset = -1; offset <= 2; ++offset) {
      const gp::Date that = std::chrono::sys_days(date) + std::chrono::days(offset);
      const double rise = day.minutes_at(
          gp::sun_event(that, lat, lon, gp::kSunriseZenith, gp::SunSide::rising).moment);
      const double set = day.minutes_at(
          gp::sun_event(that, lat, lon, gp::kSunriseZenith, gp::SunSide::setting).moment);
      const Span& span = light[static_cast<std::size_t>(offset + 1)];
      REQUIRE(gp::count(span.from) >= rise);
      REQUIRE(gp::count(span.from) < rise + 1);
      REQUIRE(gp::count(span.until) <= set);
      REQUIRE(gp::count(span.until) > set - 1);
    }
  }
}

TEST_CASE("light at the poles and on the date line is a list like any other") {
  for (const std::string text : {"2025-03-20", "2025-06-21", "2025-12-21"}) {
    const CalendarDay day = on("UTC", text);
    for (const double lat : {-90.0, 90.0, 0.0}) {
      for (const double lon : {-180.0, 180.0, 179.999, -179.999}) {
        for (const LightKind kind :
             {LightKind::day, LightKind::golden, LightKind::dusk, LightKind::dark}) {
          for (const Span& span : light_spans(kind, day, lat, lon)) {
            CHECK(span.from < span.until);
            CHECK(span.from > minute(-4 * 1440));
            CHECK(span.until < minute(5 * 1440));
          }
        }
      }
    }
  }
}

TEST_SUITE_END();
