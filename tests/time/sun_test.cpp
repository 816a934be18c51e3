#include "time/sun.h"

#include "base/random.h"
#include "support/seed.h"
#include "time/clock.h"
#include "time/rows.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("time/sun");

using gp::SunEvent;
using gp::SunSide;

namespace {

constexpr double kDegree = std::numbers::pi / 180;

gp::Date date(const std::string& text) {
  return gp::parse_date(text).value();
}

using Moment = std::chrono::sys_time<std::chrono::milliseconds>;

/// "2024-06-19T23:00:22Z"
Moment moment(const std::string& text) {
  const auto day = std::chrono::sys_days(date(text.substr(0, 10)));
  return Moment(day) + std::chrono::hours(std::stoi(text.substr(11, 2))) +
         std::chrono::minutes(std::stoi(text.substr(14, 2))) +
         std::chrono::seconds(std::stoi(text.substr(17, 2)));
}

double seconds_between(Moment a, Moment b) {
  return std::chrono::duration<double>(a - b).count();
}

double julian(Moment at) {
  return std::chrono::duration<double, std::ratio<86400>>(at.time_since_epoch()).count() +
         2440587.5;
}

SunEvent sunrise(const std::string& day, double lat, double lon) {
  return gp::sun_event(date(day), lat, lon, gp::kSunriseZenith, SunSide::rising);
}
SunEvent sunset(const std::string& day, double lat, double lon) {
  return gp::sun_event(date(day), lat, lon, gp::kSunriseZenith, SunSide::setting);
}

/// Minutes from sunrise to sunset.
double day_length(gp::Date day, double lat, double lon) {
  const SunEvent rise = gp::sun_event(day, lat, lon, gp::kSunriseZenith, SunSide::rising);
  const SunEvent set = gp::sun_event(day, lat, lon, gp::kSunriseZenith, SunSide::setting);
  REQUIRE(rise.kind == SunEvent::Kind::passes);
  REQUIRE(set.kind == SunEvent::Kind::passes);
  return seconds_between(set.moment, rise.moment) / 60;
}

}  // namespace

TEST_CASE("Meeus, example 25.a: the sun on 13 October 1992 at 0 h TD") {
  // J. Meeus, Astronomical Algorithms, example 25.a, low accuracy; the values were read in the test
  // suites of several public implementations of the book.
  const gp::SunPosition sun = gp::sun_position(2448908.5);
  CHECK(std::abs(sun.mean_longitude - 201.80720) < 0.00001);
  CHECK(std::abs(std::fmod(sun.mean_anomaly, 360) + 360 - 278.99397) < 0.00001);
  CHECK(std::abs(sun.eccentricity - 0.016711668) < 0.000000001);
  CHECK(std::abs(sun.centre - -1.89732) < 0.00001);
  CHECK(std::abs(sun.true_longitude - 199.90988) < 0.00001);
  CHECK(std::abs(sun.apparent_longitude - 199.90895) < 0.00001);
  CHECK(std::abs(sun.declination - -7.78507) < 0.00001);
  // obliquity: from memory of the same example
  CHECK(std::abs(sun.mean_obliquity - 23.44023) < 0.00001);
  CHECK(std::abs(sun.obliquity - 23.43999) < 0.00001);
  // example 28.b, same instant, from memory: 13 min 42.7 s
  CHECK(std::abs(sun.equation_of_time * 60 - (13 * 60 + 42.7)) < 0.2);
}

TEST_CASE("NREL's example for its solar position algorithm, and the trap in its sunset") {
  // I. Reda, A. Andreas, Solar Position Algorithm, NREL/TP-560-34302, as in the header of its
  // public spa_tester.c: Golden, Colorado, 17 October 2003, 12:30:30 at UTC-7, 39.742476 N,
  // 105.1786 W, 1830 m. Julian day 2452930.312847, hour angle 11.105902, obliquity 23.440465,
  // topocentric zenith 50.111622 (with refraction at 820 mbar and 11 degrees C), sunrise 06:12:43.
  const double lat = 39.742476;
  const double lon = -105.1786;
  const Moment at = moment("2003-10-17T19:30:30Z");
  CHECK(std::abs(julian(at) - 2452930.312847) < 0.000001);
  const gp::SunPosition sun = gp::sun_position(julian(at));
  const double true_solar_minutes = 19 * 60 + 30.5 + sun.equation_of_time + 4 * lon;
  const double hour_angle = true_solar_minutes / 4 - 180;
  CHECK(std::abs(hour_angle - 11.105902) < 0.01);
  CHECK(std::abs(sun.obliquity - 23.440465) < 0.001);
  const double zenith = std::acos(std::sin(lat * kDegree) * std::sin(sun.declination * kDegree) +
                                  std::cos(lat * kDegree) * std::cos(sun.declination * kDegree) *
                                      std::cos(hour_angle * kDegree)) /
                        kDegree;
  CHECK(std::abs(zenith - 50.111622) < 0.03);  // theirs is lifted 0.016 by refraction

  const SunEvent rise = sunrise("2003-10-17", lat, lon);
  CHECK(std::abs(seconds_between(rise.moment, moment("2003-10-17T13:12:43Z"))) < 20);
  // Their "sunset 17:20:19" is 00:20:19 UTC of the 17th: the evening of the 16th at the place,
  // because they solve within the day of UTC. The evening of the 17th is 17:18:51 (astronomy-engine
  // 2.1.19).
  CHECK(std::abs(seconds_between(sunset("2003-10-16", lat, lon).moment,
                                 moment("2003-10-17T00:20:19Z"))) < 20);
  CHECK(std::abs(seconds_between(sunset("2003-10-17", lat, lon).moment,
                                 moment("2003-10-18T00:18:51Z"))) < 20);
}

TEST_CASE("every row of the ephemeris table within twenty seconds") {
  int events = 0;
  for (const auto& row : gp::test::rows_of("sun.csv")) {
    REQUIRE(row.size() == 6);
    if (row[0] == "date") continue;
    INFO(row[0], " ", row[1], " ", row[4]);
    const double lat = std::stod(row[2]);
    const double lon = std::stod(row[3]);
    ++events;
    if (row[4] == "solar_noon") {
      const Moment expected = moment(row[5]);
      const double noon = 720 - 4 * lon - gp::sun_position(julian(expected)).equation_of_time;
      const Moment found = Moment(std::chrono::sys_days(date(row[0]))) +
                           std::chrono::milliseconds(std::llround(noon * 60'000));
      CHECK(std::abs(seconds_between(found, expected)) < 20);
      continue;
    }
    const bool civil = row[4].rfind("civil", 0) == 0;
    const bool rising = row[4] == "sunrise" || row[4] == "civil_dawn";
    const SunEvent event = gp::sun_event(date(row[0]),
                                         lat,
                                         lon,
                                         civil ? gp::kCivilTwilightZenith : gp::kSunriseZenith,
                                         rising ? SunSide::rising : SunSide::setting);
    if (row[5] == "none_always_above") {
      CHECK(event.kind == SunEvent::Kind::always_above);
    } else if (row[5] == "none_always_below") {
      CHECK(event.kind == SunEvent::Kind::always_below);
    } else {
      REQUIRE(event.kind == SunEvent::Kind::passes);
      CHECK(std::abs(seconds_between(event.moment, moment(row[5]))) < 20);
    }
  }
  CHECK(events == 60);
}

TEST_CASE("on the equator every day is as long as every other, within a minute") {
  // between 726.46 and 727.53 minutes in 2025 (astronomy-engine 2.1.19, lon 0)
  std::chrono::sys_days day = std::chrono::year(2025) / 1 / 1;
  for (; day < std::chrono::sys_days(std::chrono::year(2026) / 1 / 1);
       day += std::chrono::days(1)) {
    const double length = day_length(day, 0, 0);
    CAPTURE(gp::format(gp::Date(day)));
    CHECK(length > 726.46 - 0.3);
    CHECK(length < 727.53 + 0.3);
  }
}

TEST_CASE("midsummer in the north is midsummer in the south half a year later") {
  // 998.30 and 998.64 minutes (astronomy-engine 2.1.19)
  CHECK(std::abs(day_length(date("2025-06-21"), 51.5, 0) - 998.30) < 1);
  CHECK(std::abs(day_length(date("2025-12-21"), -51.5, 0) - 998.64) < 1);
}

TEST_CASE("fifteen degrees east the sun rises an hour earlier") {
  // -59.909 minutes at the equinox, -60.019 at the solstice, at 50 N (astronomy-engine 2.1.19)
  for (const std::string day : {"2025-03-20", "2025-06-21"}) {
    for (const double lon : {-120.0, -15.0, 0.0, 75.0, 150.0}) {
      INFO(day, " ", lon);
      const double step =
          seconds_between(sunrise(day, 50, lon + 15).moment, sunrise(day, 50, lon).moment) / 60;
      CHECK(std::abs(step + 60) < 0.2);
    }
  }
}

TEST_CASE("dawn, sunrise, noon, sunset and dusk come in this order within the solar day") {
  gp::Random random(gp::test::seed());
  for (int round = 0; round < 5000; ++round) {
    const double lat = random.unit() * 130 - 65;
    const double lon = random.unit() * 360 - 180;
    const std::chrono::sys_days first = std::chrono::year(1950) / 1 / 1;
    const gp::Date day = first + std::chrono::days(random.below(54'000));
    INFO(lat, " ", lon, " ", gp::format(day), " seed ", gp::test::seed());
    const auto event = [&](double zenith, SunSide side) {
      return gp::sun_event(day, lat, lon, zenith, side);
    };
    const Moment begins =
        Moment(std::chrono::sys_days(day)) - std::chrono::milliseconds(std::llround(lon * 240'000));
    const SunEvent rise = event(gp::kSunriseZenith, SunSide::rising);
    const SunEvent set = event(gp::kSunriseZenith, SunSide::setting);
    REQUIRE(rise.kind == SunEvent::Kind::passes);  // below the polar circle, always
    REQUIRE(set.kind == SunEvent::Kind::passes);
    const double noon = seconds_between(begins, begins) + 43'200;
    REQUIRE(seconds_between(rise.moment, begins) > -1800);
    REQUIRE(seconds_between(rise.moment, begins) < noon);
    REQUIRE(seconds_between(set.moment, begins) > noon);
    REQUIRE(seconds_between(set.moment, begins) < 86'400 + 1800);
    const SunEvent dawn = event(gp::kCivilTwilightZenith, SunSide::rising);
    const SunEvent dusk = event(gp::kCivilTwilightZenith, SunSide::setting);
    // Civil twilight lasts at least 20 minutes anywhere (6 - 0.833 degrees at a quarter of a degree
    // a minute: 20.7 minutes, on the equator at the equinox; longer elsewhere). Where nights are
    // bright all through, the sun stays above.
    if (dawn.kind == SunEvent::Kind::passes) {
      REQUIRE(seconds_between(rise.moment, dawn.moment) > 1200);
    } else {
      REQUIRE(dawn.kind == SunEvent::Kind::always_above);
    }
    if (dusk.kind == SunEvent::Kind::passes) {
      REQUIRE(seconds_between(dusk.moment, set.moment) > 1200);
    } else {
      REQUIRE(dusk.kind == SunEvent::Kind::always_above);
    }
  }
}

TEST_CASE("at the poles and where the longitudes meet nothing breaks") {
  for (const std::string day :
       {"2025-03-20", "2025-06-21", "2025-09-22", "2025-12-21", "2024-02-29"}) {
    for (const double lat : {-90.0, -89.999, -66.56, 0.0, 66.56, 89.999, 90.0}) {
      for (const double lon : {-180.0, -179.999, 0.0, 179.999, 180.0}) {
        INFO(day, " ", lat, " ", lon);
        for (const double zenith : {gp::kSunriseZenith, gp::kCivilTwilightZenith}) {
          for (const SunSide side : {SunSide::rising, SunSide::setting}) {
            const SunEvent event = gp::sun_event(date(day), lat, lon, zenith, side);
            if (event.kind != SunEvent::Kind::passes) continue;
            const double hours =
                seconds_between(event.moment, Moment(std::chrono::sys_days(date(day)))) / 3600;
            CHECK(std::abs(hours - (12 - lon / 15)) < 13);
          }
        }
      }
    }
  }
  CHECK(sunrise("2025-06-21", 90, 0).kind == SunEvent::Kind::always_above);
  CHECK(sunrise("2025-06-21", -90, 0).kind == SunEvent::Kind::always_below);
  CHECK(sunrise("2025-12-21", 90, 0).kind == SunEvent::Kind::always_below);
  // one place, two names for its longitude: the same sun under two dates, a day apart
  const double apart = seconds_between(sunrise("2025-03-21", 10, 180).moment,
                                       sunrise("2025-03-20", 10, -180).moment);
  CHECK(std::abs(apart) < 1);
}

TEST_SUITE_END();
