#pragma once

#include "base/minutes.h"

#include <chrono>

// Where the sun stands, and when it rises and sets. Source: NOAA Global Monitoring Laboratory,
// "Solar Calculation Details" (gml.noaa.gov/grad/solcalc/calcdetails.html), after J. Meeus,
// Astronomical Algorithms (1991): low-precision position (chapter 25), equation of time (chapter
// 28). NOAA gives an accuracy of a minute within 72 degrees of the equator, of ten minutes beyond;
// real air bends light otherwise on other days, and hills and height above the sea are not known
// here: what is shown to people are minutes, never seconds.

namespace gp {

/// The sun as seen from the middle of the earth; angles in degrees.
struct SunPosition {
  double mean_longitude = 0;      ///< 0 .. 360
  double mean_anomaly = 0;        ///< not reduced to one turn
  double eccentricity = 0;        ///< of the earth's orbit
  double centre = 0;              ///< the equation of the centre
  double true_longitude = 0;      ///< mean longitude plus centre
  double apparent_longitude = 0;  ///< with aberration and nutation
  double mean_obliquity = 0;      ///< of the ecliptic
  double obliquity = 0;           ///< with nutation
  double declination = 0;         ///< -23.5 .. 23.5
  double equation_of_time = 0;    ///< minutes that a sundial is ahead of the clock
};

/// \param julian_day  days since noon, 1 January 4713 BC; 2451545.0 is noon of 1 January 2000
SunPosition sun_position(double julian_day);

/// The zenith distances [degrees] that rise and set are taken at. Upper rim on the horizon, with
/// 34' of refraction and 16' of radius; the end of civil twilight is the sun's middle 6 degrees
/// below.
inline constexpr double kSunriseZenith = 90.833;
inline constexpr double kCivilTwilightZenith = 96.0;

/// When the sun passes a zenith distance, or why it does not that day.
struct SunEvent {
  enum class Kind {
    passes,        ///< at `moment`
    always_above,  ///< the sun stays higher: midnight sun, bright nights
    always_below,  ///< the sun stays lower: polar night
  };
  Kind kind = Kind::passes;
  std::chrono::sys_time<std::chrono::milliseconds> moment{};
};

enum class SunSide { rising, setting };

/// \param solar_date  names the 24 hours around the place's own mean noon, 12:00 UTC - lon / 15 h;
///                    not a day of UTC and not of a zone
/// \param lat         degrees north, -90 .. 90
/// \param lon         degrees east, -180 .. 180
/// \param zenith      degrees from straight up
/// Cost: some microseconds. Threads: pure.
SunEvent sun_event(Date solar_date, double lat, double lon, double zenith, SunSide side);

}  // namespace gp
