#pragma once

#include <chrono>
#include <compare>
#include <cstdint>
#include <ratio>

namespace gp {

/// A shooting day's own clock: minutes elapsed since local midnight of that day. May pass 24 h, and
/// on a night when the clocks change it differs from what a clock on the wall shows.
struct DayClock {
  using rep = std::int32_t;
  using period = std::ratio<60>;
  using duration = std::chrono::duration<rep, period>;
  using time_point = std::chrono::time_point<DayClock>;
  static constexpr bool is_steady = true;
};

using Minutes = DayClock::duration;   ///< a length
using Minute = DayClock::time_point;  ///< a moment of the day, elapsed since its midnight
using Date = std::chrono::year_month_day;

/// The moment `elapsed` minutes after midnight.
constexpr Minute minute(std::int32_t elapsed) {
  return Minute{Minutes{elapsed}};
}
/// Minutes after midnight, as a bare number (for arithmetic on totals and for printing).
constexpr std::int32_t count(Minute m) {
  return m.time_since_epoch().count();
}
constexpr std::int32_t count(Minutes m) {
  return m.count();
}

/// Farther than any moment of a day; as a window's end it means "no limit". Leaves room for sums.
inline constexpr Minute kNever = minute(1'000'000);
inline constexpr Minute kAlwaysBefore = minute(-1'000'000);

/// What a clock on the wall shows, in minutes after the 00:00 of the day; the hour may pass 24
/// ("25:30" is 1530). Compared and printed, never added to: lengths are elapsed minutes.
struct WallTime {
  std::int32_t minutes = 0;
  auto operator<=>(const WallTime&) const = default;
};

}  // namespace gp
