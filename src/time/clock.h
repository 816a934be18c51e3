#pragma once

#include "base/minutes.h"
#include "base/spans.h"

#include <optional>
#include <string>
#include <string_view>

// Times, spans and dates as the files write them. Nothing here knows a zone: see time/day_clock.h.

namespace gp {

/// Latest reading that can be written: "99:59".
inline constexpr WallTime kLatestWallTime{99 * 60 + 59};

/// "HH:MM", exactly two digits each: hour 00 .. 99 (past 24: the night or the days after), minute
/// 00 .. 59. None: anything else, "9:30" and " 09:30" included; a reader of files says so with
/// the text found. A judge that is more lenient accepts all that this accepts.
std::optional<WallTime> parse_wall_time(std::string_view text);

/// "HH:MM-HH:MM", no spaces. Whether it ends after it begins is for the reader to judge: on a night
/// when the clocks change, the readings alone do not tell.
std::optional<WallSpan> parse_wall_span(std::string_view text);

/// "HH:MM"; what parse_wall_time reads back, for 00:00 .. 99:59. Outside of that, for messages
/// alone: "100:05", "-00:30".
std::string format(WallTime time);
/// "HH:MM-HH:MM".
std::string format(WallSpan span);

/// "YYYY-MM-DD" (ISO 8601 calendar date, extended format), years 1900 .. 2200, a day the calendar
/// has. None: anything else.
std::optional<Date> parse_date(std::string_view text);

/// "YYYY-MM-DD".
std::string format(Date date);

}  // namespace gp
