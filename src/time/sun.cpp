#include "time/sun.h"

#include <cmath>
#include <numbers>

namespace gp {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kUnixEpochJulianDay = 2440587.5;  // 1970-01-01 00:00 UTC
constexpr int kPasses = 6;  // the sun moves while it rises; the third pass already moves < 1 s

double radians(double degrees) {
  return degrees * (kPi / 180.0);
}
double degrees(double radians) {
  return radians * (180.0 / kPi);
}
double within_a_turn(double angle) {
  const double turned = std::fmod(angle, 360.0);
  return turned < 0 ? turned + 360.0 : turned;
}

}  // namespace

SunPosition sun_position(double julian_day) {
  SunPosition sun;
  const double t = (julian_day - 2451545.0) / 36525.0;  // centuries since noon, 1 January 2000
  sun.mean_longitude = within_a_turn(280.46646 + t * (36000.76983 + 0.0003032 * t));
  sun.mean_anomaly = 357.52911 + t * (35999.05029 - 0.0001537 * t);
  sun.eccentricity = 0.016708634 - t * (0.000042037 + 0.0000001267 * t);

  const double anomaly = radians(sun.mean_anomaly);
  sun.centre = std::sin(anomaly) * (1.914602 - t * (0.004817 + 0.000014 * t)) +
               std::sin(2 * anomaly) * (0.019993 - 0.000101 * t) + std::sin(3 * anomaly) * 0.000289;
  sun.true_longitude = sun.mean_longitude + sun.centre;
  const double node = radians(125.04 - 1934.136 * t);  // of the moon's orbit
  sun.apparent_longitude = sun.true_longitude - 0.00569 - 0.00478 * std::sin(node);

  const double arc_seconds = 21.448 - t * (46.815 + t * (0.00059 - 0.001813 * t));
  sun.mean_obliquity = 23 + (26 + arc_seconds / 60) / 60;
  sun.obliquity = sun.mean_obliquity + 0.00256 * std::cos(node);
  const double tilt = radians(sun.obliquity);
  sun.declination = degrees(std::asin(std::sin(tilt) * std::sin(radians(sun.apparent_longitude))));

  const double y = std::pow(std::tan(tilt / 2), 2);
  const double e = sun.eccentricity;
  const double longitude = radians(sun.mean_longitude);
  sun.equation_of_time =
      4 * degrees(y * std::sin(2 * longitude) - 2 * e * std::sin(anomaly) +
                  4 * e * y * std::sin(anomaly) * std::cos(2 * longitude) -
                  y * y / 2 * std::sin(4 * longitude) - 1.25 * e * e * std::sin(2 * anomaly));
  return sun;
}

SunEvent sun_event(Date solar_date, double lat, double lon, double zenith, SunSide side) {
  const std::chrono::sys_days midnight = solar_date;  // of UTC, under the same date
  const double julian_midnight =
      static_cast<double>(midnight.time_since_epoch().count()) + kUnixEpochJulianDay;
  double minutes = 720 - 4 * lon;  // after that midnight; first guess: mean noon
  for (int pass = 0; pass < kPasses; ++pass) {
    const SunPosition sun = sun_position(julian_midnight + minutes / 1440);
    const double declination = radians(sun.declination);
    const double latitude = radians(lat);
    // the hour angle at which the sun stands at the zenith distance
    const double cosine = std::cos(radians(zenith)) / (std::cos(latitude) * std::cos(declination)) -
                          std::tan(latitude) * std::tan(declination);
    if (cosine > 1) return {SunEvent::Kind::always_below, {}};
    if (cosine < -1) return {SunEvent::Kind::always_above, {}};
    const double hour_angle = degrees(std::acos(cosine));
    const double toward = side == SunSide::rising ? hour_angle : -hour_angle;
    minutes = 720 - 4 * (lon + toward) - sun.equation_of_time;
  }
  const std::chrono::duration<double, std::ratio<60>> after{minutes};
  return {SunEvent::Kind::passes, midnight + std::chrono::round<std::chrono::milliseconds>(after)};
}

}  // namespace gp
