#include "time/zone_rule.h"

#include <algorithm>

namespace gp {

namespace {

using std::chrono::seconds;

bool skip(std::string_view& text, char expected) {
  if (text.empty() || text.front() != expected) return false;
  text.remove_prefix(1);
  return true;
}

bool read_number(std::string_view& text, int most, int& number) {
  std::size_t size = 0;
  number = 0;
  while (size < text.size() && size < 3 && text[size] >= '0' && text[size] <= '9') {
    number = number * 10 + (text[size] - '0');
    ++size;
  }
  text.remove_prefix(size);
  return size > 0 && number <= most;
}

/// [+-]hh[:mm[:ss]]
bool read_time(std::string_view& text, seconds& time) {
  const bool negative = skip(text, '-');
  if (!negative) skip(text, '+');
  int hour = 0;
  int minute = 0;
  int second = 0;
  if (!read_number(text, 167, hour)) return false;
  if (skip(text, ':') && !read_number(text, 59, minute)) return false;
  if (minute >= 0 && skip(text, ':') && !read_number(text, 59, second)) return false;
  time = std::chrono::hours(hour) + std::chrono::minutes(minute) + seconds(second);
  if (negative) time = -time;
  return true;
}

/// Three letters or more, or anything within < and >.
bool skip_name(std::string_view& text) {
  if (skip(text, '<')) {
    const auto end = text.find('>');
    if (end == std::string_view::npos) return false;
    text.remove_prefix(end + 1);
    return true;
  }
  std::size_t size = 0;
  const auto is_letter = [](char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); };
  while (size < text.size() && is_letter(text[size])) ++size;
  text.remove_prefix(size);
  return size >= 3;
}

}  // namespace

bool ZoneRule::read_year_day(std::string_view& text, YearDay& rule) {
  int first = 0;
  if (skip(text, 'M')) {
    int week = 0;
    int weekday = 0;
    rule.kind = YearDay::Kind::month_week_day;
    if (!read_number(text, 12, first) || !skip(text, '.') || !read_number(text, 5, week) ||
        !skip(text, '.') || !read_number(text, 6, weekday) || first < 1 || week < 1) {
      return false;
    }
    rule.month = static_cast<unsigned>(first);
    rule.week = static_cast<unsigned>(week);
    rule.weekday = static_cast<unsigned>(weekday);
  } else {
    const bool from_one = skip(text, 'J');
    rule.kind = from_one ? YearDay::Kind::without_leap_day : YearDay::Kind::with_leap_day;
    if (!read_number(text, 365, rule.day) || (from_one && rule.day < 1)) return false;
  }
  rule.time = std::chrono::hours(2);
  return !skip(text, '/') || read_time(text, rule.time);
}

std::optional<ZoneRule> ZoneRule::parse(std::string_view text) {
  ZoneRule rule;
  seconds west{};  // POSIX counts offsets to the west
  if (!skip_name(text) || !read_time(text, west)) return std::nullopt;
  rule.standard_ = -west;
  rule.summer_ = rule.standard_;
  if (text.empty()) return rule;
  rule.changes_ = true;
  rule.summer_ = rule.standard_ + std::chrono::hours(1);
  if (!skip_name(text)) return std::nullopt;
  if (!text.empty() && text.front() != ',') {
    if (!read_time(text, west)) return std::nullopt;
    rule.summer_ = -west;
  }
  if (!skip(text, ',') || !read_year_day(text, rule.start_)) return std::nullopt;
  if (!skip(text, ',') || !read_year_day(text, rule.end_) || !text.empty()) return std::nullopt;
  return rule;
}

std::chrono::sys_days ZoneRule::date_of(const YearDay& rule, std::chrono::year year) {
  using std::chrono::days;
  const std::chrono::sys_days first = year / 1 / 1;
  switch (rule.kind) {
    case YearDay::Kind::without_leap_day:
      return first + days(rule.day - 1 + (year.is_leap() && rule.day >= 60 ? 1 : 0));
    case YearDay::Kind::with_leap_day:
      return first + days(rule.day);
    case YearDay::Kind::month_week_day:
      break;
  }
  const std::chrono::year_month month = year / std::chrono::month(rule.month);
  const std::chrono::weekday weekday(rule.weekday);
  if (rule.week == 5) return month / weekday[std::chrono::last];
  return month / weekday[rule.week];
}

std::vector<OffsetChange> ZoneRule::changes(std::chrono::year year) const {
  if (!changes_) return {};
  std::vector<OffsetChange> both = {
      {date_of(start_, year) + start_.time - standard_, summer_},
      {date_of(end_, year) + end_.time - summer_, standard_},
  };
  if (both[1].at < both[0].at) std::swap(both[0], both[1]);
  return both;
}

seconds ZoneRule::offset(std::chrono::sys_seconds moment) const {
  const auto year =
      std::chrono::year_month_day(std::chrono::floor<std::chrono::days>(moment)).year();
  seconds result = standard_;
  // the last change of the year before holds until the first of this one
  for (const std::chrono::year each : {year - std::chrono::years(1), year}) {
    for (const OffsetChange& change : changes(each)) {
      if (change.at <= moment) result = change.offset;
    }
  }
  return result;
}

}  // namespace gp
