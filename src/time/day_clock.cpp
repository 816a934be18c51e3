#include "time/day_clock.h"

#include "base/errors.h"
#include "time/clock.h"

#include <algorithm>
#include <stdexcept>

#include <date/tz.h>  // the only file that includes it

namespace gp {

namespace {

using std::chrono::duration_cast;
using std::chrono::hours;
using std::chrono::seconds;
using std::chrono::sys_seconds;

[[noreturn]] void database_unreadable(const std::string& cause) {
  throw WorldError(
      "reading the zone database of this computer failed; install the package tzdata: " + cause);
}

const date::tzdb& database() {
  try {
    const date::tzdb& read = date::get_tzdb();
    if (!read.zones.empty()) return read;
  } catch (const std::exception& cause) {
    database_unreadable(cause.what());
  }
  database_unreadable("it has no zones");
}

/// Files beside the zones that hold a zone, but not under a name that means the same everywhere.
bool is_no_zone_name(const std::string& name) {
  return name == "localtime" || name == "posixrules" || name == "Factory" ||
         name.rfind("posix/", 0) == 0 || name.rfind("right/", 0) == 0;
}

/// None: no such zone.
const date::time_zone* find_zone(const std::string& zone) {
  const auto& zones = database().zones;
  const auto found =
      std::lower_bound(zones.begin(), zones.end(), zone, [](const auto& one, const auto& name) {
        return one.name() < name;
      });
  if (found == zones.end() || found->name() != zone || is_no_zone_name(zone)) return nullptr;
  return &*found;
}

const date::time_zone& zone_or_mistake(const std::string& zone) {
  const date::time_zone* found = find_zone(zone);
  if (found == nullptr) throw InternalError("a zone that the reader let through: " + zone);
  return *found;
}

date::local_days local_midnight(Date day) {
  return date::local_days(date::days(std::chrono::sys_days(day).time_since_epoch().count()));
}

/// The library reads a zone's file when the zone is first asked.
date::local_info info_of(const date::time_zone& zone, date::local_seconds local) {
  try {
    return zone.get_info(local);
  } catch (const std::exception& cause) {
    database_unreadable(cause.what());
  }
}

date::sys_info info_of(const date::time_zone& zone, sys_seconds moment) {
  try {
    return zone.get_info(moment);
  } catch (const std::exception& cause) {
    database_unreadable(cause.what());
  }
}

/// Whether the whole day that begins at this midnight is skipped. `at_midnight` is its info.
bool is_skipped(const date::local_info& at_midnight, date::local_days midnight) {
  if (at_midnight.result != date::local_info::nonexistent) return false;
  const auto clock_goes_on_at =
      at_midnight.second.begin.time_since_epoch() + at_midnight.second.offset;
  return clock_goes_on_at >= (midnight + date::days(1)).time_since_epoch();
}

Minutes rounded(seconds length) {
  return std::chrono::round<Minutes>(length);
}

}  // namespace

bool is_zone(const std::string& zone) {
  return find_zone(zone) != nullptr;
}

std::vector<std::string> zone_names() {
  std::vector<std::string> names;
  for (const auto& zone : database().zones) {
    if (!is_no_zone_name(zone.name())) names.push_back(zone.name());
  }
  return names;
}

bool date_exists(Date date, const std::string& zone) {
  if (!date.ok()) return false;
  const auto midnight = local_midnight(date);
  return !is_skipped(info_of(zone_or_mistake(zone), midnight), midnight);
}

CalendarDay::CalendarDay(Date date, const std::string& zone_name) : date_(date) {
  const date::time_zone& zone = zone_or_mistake(zone_name);
  if (!date.ok()) throw InternalError("a date that is in no calendar");
  const auto local = local_midnight(date);
  const auto at_midnight = info_of(zone, local);
  if (is_skipped(at_midnight, local)) {
    throw InternalError("a date that the reader let through: " + format(date) +
                        " does not exist in " + zone_name);
  }
  // Twice: the first. Skipped: the offset before the gap. Both are `first`.
  date::sys_info before = at_midnight.first;
  const seconds offset = before.offset;
  midnight_ = sys_seconds(local.time_since_epoch() - offset);

  const sys_seconds far = midnight_ + hours(100);
  while (before.end < far) {
    const date::sys_info after = info_of(zone, before.end);
    if (after.offset != before.offset) {
      // What a wall clock shows, counted from this midnight: moment - midnight + (its offset now -
      // its offset at midnight). A skipped reading still counts by the offset before, and a
      // doubled one means the first pass, so the new offset begins at the later of both readings.
      const seconds moment = before.end - midnight_;
      const seconds reading = moment + std::max(before.offset, after.offset) - offset;
      const Minutes shift_before = changes_.empty() ? Minutes{0} : changes_.back().shift;
      const Minutes shift = rounded(offset - after.offset);
      const Minute at{rounded(moment)};
      changes_.push_back({WallTime{rounded(reading).count()}, at, shift});
      if (shift > shift_before) unnameable_.push_back({at, at + (shift - shift_before)});
    }
    before = after;
  }
}

Minute CalendarDay::elapsed(WallTime wall) const {
  Minutes shift{0};
  for (const Change& change : changes_) {
    if (wall < change.from) break;
    shift = change.shift;
  }
  return Minute{Minutes{wall.minutes} + shift};
}

WallTime CalendarDay::shown(Minute moment) const {
  Minutes shift{0};
  for (const Change& change : changes_) {
    if (moment < change.at) break;
    shift = change.shift;
  }
  return WallTime{(moment.time_since_epoch() - shift).count()};
}

std::optional<WallTime> CalendarDay::wall(Minute moment) const {
  const WallTime reading = shown(moment);
  if (!changes_.empty() && elapsed(reading) != moment) return std::nullopt;
  return reading;
}

double CalendarDay::minutes_at(std::chrono::sys_time<std::chrono::milliseconds> moment) const {
  return std::chrono::duration<double, std::ratio<60>>(moment - midnight_).count();
}

}  // namespace gp
