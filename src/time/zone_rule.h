#pragma once

#include <chrono>
#include <optional>
#include <string_view>
#include <vector>

namespace gp {

/// The moment an offset begins to hold.
struct OffsetChange {
  std::chrono::sys_seconds at;
  std::chrono::seconds offset;  ///< from UTC, east positive, from then on
  bool operator==(const OffsetChange&) const = default;
};

/// How a zone goes on after the last change that its file lists: the text at the end of the file,
/// such as "GMT0BST,M3.5.0/1,M10.5.0". Source: RFC 8536 section 3.3 (the footer) and POSIX.1-2017
/// section 8.3 (TZ), with the hours up to 167 and the signs that RFC 8536 adds.
class ZoneRule {
 public:
  /// None: the text is not such a rule.
  static std::optional<ZoneRule> parse(std::string_view text);

  /// The changes of one year, in order; none where the clocks never change.
  [[nodiscard]] std::vector<OffsetChange> changes(std::chrono::year year) const;
  [[nodiscard]] std::chrono::seconds offset(std::chrono::sys_seconds moment) const;

 private:
  struct YearDay {
    enum class Kind { month_week_day, without_leap_day, with_leap_day } kind{};
    unsigned month = 0, week = 0, weekday = 0;  ///< week 5: the last; weekday 0: Sunday
    int day = 0;                                ///< of the other two kinds
    std::chrono::seconds time{};                ///< on the clock as it is before the change
  };
  static std::chrono::sys_days date_of(const YearDay& rule, std::chrono::year year);
  static bool read_year_day(std::string_view& text, YearDay& rule);

  std::chrono::seconds standard_{}, summer_{};
  bool changes_ = false;
  YearDay start_, end_;  ///< of summer time
};

}  // namespace gp
