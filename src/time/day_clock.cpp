#include "time/day_clock.h"

#include "base/errors.h"
#include "time/clock.h"
#include "time/zone_rule.h"

#include <algorithm>
#include <fstream>
#include <map>
#include <mutex>
#include <optional>
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

/// A stretch of time with one offset from UTC, east positive.
struct Stretch {
  sys_seconds from, until;
  seconds offset;
};

/// The library reads a zone's file when the zone is first asked.
date::sys_info info_of(const date::time_zone& zone, sys_seconds moment) {
  try {
    return zone.get_info(moment);
  } catch (const std::exception& cause) {
    database_unreadable(cause.what());
  }
}

/// The text at the end of the zone's file, which the library does not read.
std::optional<ZoneRule> read_rule(const std::string& zone) {
  std::ifstream file("/usr/share/zoneinfo/" + zone, std::ios::binary);
  std::string line;
  for (std::string next; std::getline(file, next);) line = next;
  return ZoneRule::parse(line);  // none where the file has none, or cannot be read
}

/// Read once for each zone; any thread may ask.
const std::optional<ZoneRule>& rule_of(const std::string& zone) {
  static std::mutex mutex;
  static std::map<std::string, std::optional<ZoneRule>> rules;
  const std::lock_guard lock(mutex);
  const auto found = rules.find(zone);
  if (found != rules.end()) return found->second;
  return rules.emplace(zone, read_rule(zone)).first->second;
}

/// The stretches from one moment until another, in order. Offsets of neighbours differ.
std::vector<Stretch> stretches(const date::time_zone& zone, sys_seconds from, sys_seconds until) {
  std::vector<Stretch> result;
  const auto add = [&result, until](sys_seconds at, seconds offset) {
    if (!result.empty()) {
      if (result.back().offset == offset) return;
      result.back().until = at;
    }
    result.push_back({at, until, offset});
  };
  date::sys_info info = info_of(zone, from);
  add(from, info.offset);
  while (info.end < until) {
    info = info_of(zone, info.end);
    add(info.begin, info.offset);
  }
  // The file lists changes up to some year, commonly 2037; from there on its rule holds.
  const bool is_last = info.end > std::chrono::sys_days(std::chrono::year(3000) / 1 / 1);
  const std::optional<ZoneRule>& rule = rule_of(zone.name());
  if (!is_last || !rule) return result;
  if (info.begin < from) result = {{from, until, rule->offset(from)}};
  const auto year_of = [](sys_seconds moment) {
    return std::chrono::year_month_day(std::chrono::floor<std::chrono::days>(moment)).year();
  };
  for (auto year = year_of(from); year <= year_of(until); ++year) {
    for (const OffsetChange& change : rule->changes(year)) {
      if (change.at > std::max(from, info.begin) && change.at < until) {
        add(change.at, change.offset);
      }
    }
  }
  return result;
}

/// What the local midnight of a date means: the moment, and what follows for some days.
struct Midnight {
  sys_seconds moment;
  seconds offset;               ///< that the moment was told by
  bool skipped_day = false;     ///< the whole day does not exist
  std::vector<Stretch> follow;  ///< the first holds at the moment or ends there
};

Midnight midnight_of(Date date, const date::time_zone& zone) {
  constexpr auto kBefore = hours(48);  // more than any offset
  constexpr auto kAfter = hours(48 + 100);
  const sys_seconds reading = std::chrono::sys_days(date);  // as if in UTC
  std::vector<Stretch> all = stretches(zone, reading - kBefore, reading + kAfter);
  // Twice: the first stretch in which the clock reads it. Skipped: the offset before the gap.
  std::size_t at = 0;
  while (at + 1 < all.size() && reading >= all[at].until + all[at].offset) ++at;
  const bool skipped = reading < all[at].from + all[at].offset;
  const seconds gap_end = all[at].from.time_since_epoch() + all[at].offset;
  if (skipped) --at;  // the first stretch begins two days before, so there is one
  Midnight midnight{reading - all[at].offset, all[at].offset, false, {}};
  midnight.skipped_day = skipped && gap_end >= reading.time_since_epoch() + hours(24);
  midnight.follow.assign(all.begin() + static_cast<std::ptrdiff_t>(at), all.end());
  return midnight;
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
  return date.ok() && !midnight_of(date, zone_or_mistake(zone)).skipped_day;
}

CalendarDay::CalendarDay(Date date, const std::string& zone) : date_(date) {
  if (!date.ok()) throw InternalError("a date that is in no calendar");
  const Midnight midnight = midnight_of(date, zone_or_mistake(zone));
  if (midnight.skipped_day) {
    throw InternalError("a date that the reader let through: " + format(date) +
                        " does not exist in " + zone);
  }
  midnight_ = midnight.moment;
  seconds offset_before = midnight.offset;
  for (std::size_t i = 1; i < midnight.follow.size(); ++i) {
    // What a wall clock shows, counted from this midnight: moment - midnight + (its offset now -
    // its offset at midnight). A skipped reading still counts by the offset before, and a doubled
    // one means the first pass, so the new offset begins at the later of both readings.
    const Stretch& next = midnight.follow[i];
    const seconds moment = next.from - midnight_;
    const seconds reading = moment + std::max(offset_before, next.offset) - midnight.offset;
    const Minutes shift_before = changes_.empty() ? Minutes{0} : changes_.back().shift;
    const Minutes shift = rounded(midnight.offset - next.offset);
    const Minute at{rounded(moment)};
    changes_.push_back({WallTime{rounded(reading).count()}, at, shift});
    if (shift > shift_before) unnameable_.push_back({at, at + (shift - shift_before)});
    offset_before = next.offset;
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
