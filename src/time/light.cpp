#include "time/light.h"

#include "time/sun.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>
#include <utility>

namespace gp {

namespace {

/// Minutes of the shooting day, with fractions; half-open.
struct Stretch {
  double from = 0;
  double until = 0;
};

constexpr double kGolden = 60;  // minutes after sunrise and before sunset

/// What the sun does in the 24 hours around one mean noon of a place; where it does not rise, set
/// or pass the twilight, the moments say so by themselves: a sun always up rises at `from` and sets
/// at `until`, one never up does both at noon.
struct SolarDay {
  Stretch whole;
  double dawn = 0, sunrise = 0, sunset = 0, dusk = 0;
  bool rises = false, sets = false;  ///< it really does
  bool stays_dark = false;           ///< not even civil twilight comes

  [[nodiscard]] bool has_sun() const { return sunset > sunrise; }
};

SolarDay solar_day(const CalendarDay& day, Date date, double lat, double lon) {
  SolarDay solar;
  solar.whole.from = day.minutes_at(std::chrono::sys_days(date)) - 4 * lon;
  solar.whole.until = solar.whole.from + 1440;
  const double noon = solar.whole.from + 720;

  SunEvent::Kind kind{};
  const auto moment = [&](double zenith, SunSide side) {
    const SunEvent event = sun_event(date, lat, lon, zenith, side);
    kind = event.kind;
    if (kind == SunEvent::Kind::passes) return day.minutes_at(event.moment);
    if (kind == SunEvent::Kind::always_below) return noon;
    return side == SunSide::rising ? solar.whole.from : solar.whole.until;
  };
  solar.sunrise = moment(kSunriseZenith, SunSide::rising);
  solar.rises = kind == SunEvent::Kind::passes;
  solar.sunset = moment(kSunriseZenith, SunSide::setting);
  solar.sets = kind == SunEvent::Kind::passes;
  solar.dawn = moment(kCivilTwilightZenith, SunSide::rising);
  solar.stays_dark = kind == SunEvent::Kind::always_below;
  solar.dusk = moment(kCivilTwilightZenith, SunSide::setting);
  return solar;
}

void add(LightKind kind, const SolarDay& solar, std::vector<Stretch>& stretches) {
  switch (kind) {
    case LightKind::day:
      if (solar.has_sun()) stretches.push_back({solar.sunrise, solar.sunset});
      break;
    case LightKind::golden:
      if (!solar.has_sun()) break;
      if (solar.rises) {
        stretches.push_back({solar.sunrise, std::min(solar.sunrise + kGolden, solar.sunset)});
      }
      if (solar.sets) {
        stretches.push_back({std::max(solar.sunset - kGolden, solar.sunrise), solar.sunset});
      }
      break;
    case LightKind::dusk:
      if (solar.dusk > solar.sunset) stretches.push_back({solar.sunset, solar.dusk});
      break;
    case LightKind::dark:
      if (solar.stays_dark) {
        stretches.push_back(solar.whole);
        break;
      }
      if (solar.dawn > solar.whole.from) stretches.push_back({solar.whole.from, solar.dawn});
      if (solar.dusk < solar.whole.until) stretches.push_back({solar.dusk, solar.whole.until});
      break;
  }
}

/// Two that touch are one; so are two with half a minute between them: where one solar day ends
/// and the next begins, nothing happens in the sky.
std::vector<Stretch> merged(std::vector<Stretch> stretches) {
  constexpr double kTouching = 0.51;
  std::sort(stretches.begin(), stretches.end(), [](const Stretch& a, const Stretch& b) {
    return std::pair(a.from, a.until) < std::pair(b.from, b.until);
  });
  std::vector<Stretch> result;
  for (const Stretch& next : stretches) {
    if (!result.empty() && next.from <= result.back().until + kTouching) {
      result.back().until = std::max(result.back().until, next.until);
    } else {
      result.push_back(next);
    }
  }
  return result;
}

}  // namespace

std::vector<Span> light_spans(LightKind kind, const CalendarDay& day, double lat, double lon) {
  std::vector<Stretch> stretches;
  for (int offset = -1; offset <= 2; ++offset) {
    const Date date = std::chrono::sys_days(day.date()) + std::chrono::days(offset);
    add(kind, solar_day(day, date, lat, lon), stretches);
  }
  std::vector<Span> spans;
  for (const Stretch& stretch : merged(std::move(stretches))) {
    const Span inside{minute(static_cast<std::int32_t>(std::ceil(stretch.from))),
                      minute(static_cast<std::int32_t>(std::floor(stretch.until)))};
    if (inside.from < inside.until) spans.push_back(inside);
  }
  return spans;
}

}  // namespace gp
