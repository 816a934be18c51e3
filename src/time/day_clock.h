#pragma once

#include "base/minutes.h"
#include "base/spans.h"

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace gp {

// Zones are those of the system's zone database (Debian's tzdata), read once, when first asked for;
// any thread may be the first. Every function here that reads it throws WorldError where it cannot
// be read. Beyond the changes a zone's file lists, commonly to 2037, its own rule goes on (see
// time/zone_rule.h).

/// Whether the zone database knows the zone ("Europe/Dublin"); names are case-sensitive.
bool is_zone(const std::string& zone);
/// Every zone name the database has, in order of its bytes, for the nearest-name hint.
std::vector<std::string> zone_names();
/// Whether the date exists in the zone (Pacific/Apia had no 2011-12-30).
/// \throws InternalError  there is no such zone (ask is_zone() first)
bool date_exists(Date date, const std::string& zone);

/// One shooting day: elapsed minutes since its local midnight against the clock on the wall.
/// A wall time that comes twice means the first; one that is skipped is read with the offset before
/// the gap (RFC 5545 section 3.3.5). So do the clock and its inverse on the days after it, to
/// 99:59. Offsets with seconds (before 1972) are rounded to whole minutes of difference.
/// Cost: making one some microseconds, once the zone was read; elapsed() and wall() two additions
/// on days without a change. Threads: const from then on.
class CalendarDay {
 public:
  /// \throws InternalError  the zone or the date does not exist (the reader let it through)
  CalendarDay(Date date, const std::string& zone);

  [[nodiscard]] Date date() const { return date_; }
  [[nodiscard]] Minute elapsed(WallTime wall) const;
  [[nodiscard]] Span elapsed(WallSpan wall) const {
    return {elapsed(wall.from), elapsed(wall.until)};
  }
  /// The reading that `elapsed` turns back into this moment; none where there is none: in the
  /// second pass of an hour that comes twice. No plan begins or ends anything there.
  [[nodiscard]] std::optional<WallTime> wall(Minute moment) const;
  /// What the clock shows, for people; in the second pass of a doubled hour the same as in the
  /// first.
  [[nodiscard]] WallTime shown(Minute moment) const;
  /// The moments that have no reading of their own (see wall()), in order; empty on nearly every
  /// day. A clock set back up to four nights later counts too: plans may run past midnight.
  [[nodiscard]] const std::vector<Span>& unnameable() const { return unnameable_; }
  /// Minutes from this day's midnight to a moment, with fractions.
  [[nodiscard]] double minutes_at(std::chrono::sys_time<std::chrono::milliseconds> moment) const;
  [[nodiscard]] std::chrono::sys_seconds utc(Minute moment) const {
    return midnight_ + moment.time_since_epoch();
  }

 private:
  /// The clocks change: up to this reading (and moment) the shift before it holds, then this one;
  /// elapsed = wall + shift. Before the first the shift is 0.
  struct Change {
    WallTime from;
    Minute at;
    Minutes shift;
  };
  Date date_;
  std::chrono::sys_seconds midnight_;
  std::vector<Change> changes_;  ///< in order; empty on nearly every day
  std::vector<Span> unnameable_;
};

}  // namespace gp
