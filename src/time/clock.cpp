#include "time/clock.h"

#include <cstddef>
#include <cstdint>

namespace gp {

namespace {

/// The number that `text` is, digits alone; none: an empty text or anything but digits.
std::optional<std::int32_t> digits(std::string_view text) {
  if (text.empty()) return std::nullopt;
  std::int32_t number = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    number = number * 10 + (c - '0');
  }
  return number;
}

std::string padded(std::int32_t number, std::size_t width) {
  std::string text = std::to_string(number);
  if (text.size() < width) text.insert(0, width - text.size(), '0');
  return text;
}

}  // namespace

std::optional<WallTime> parse_wall_time(std::string_view text) {
  if (text.size() != 5 || text[2] != ':') return std::nullopt;
  const auto hour = digits(text.substr(0, 2));
  const auto minute_of_hour = digits(text.substr(3, 2));
  if (!hour || !minute_of_hour || *minute_of_hour > 59) return std::nullopt;
  return WallTime{*hour * 60 + *minute_of_hour};
}

std::optional<WallSpan> parse_wall_span(std::string_view text) {
  if (text.size() != 11 || text[5] != '-') return std::nullopt;
  const auto from = parse_wall_time(text.substr(0, 5));
  const auto until = parse_wall_time(text.substr(6, 5));
  if (!from || !until) return std::nullopt;
  return WallSpan{*from, *until};
}

std::string format(WallTime time) {
  const bool before = time.minutes < 0;
  const std::int32_t minutes = before ? -time.minutes : time.minutes;
  return (before ? "-" : "") + padded(minutes / 60, 2) + ":" + padded(minutes % 60, 2);
}

std::string format(WallSpan span) {
  return format(span.from) + "-" + format(span.until);
}

std::optional<Date> parse_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto year = digits(text.substr(0, 4));
  const auto month = digits(text.substr(5, 2));
  const auto day = digits(text.substr(8, 2));
  if (!year || !month || !day || *year < 1900 || *year > 2200) return std::nullopt;
  const Date date{std::chrono::year(*year),
                  std::chrono::month(static_cast<unsigned>(*month)),
                  std::chrono::day(static_cast<unsigned>(*day))};
  if (!date.ok()) return std::nullopt;
  return date;
}

std::string format(Date date) {
  return padded(static_cast<int>(date.year()), 4) + "-" +
         padded(static_cast<std::int32_t>(static_cast<unsigned>(date.month())), 2) + "-" +
         padded(static_cast<std::int32_t>(static_cast<unsigned>(date.day())), 2);
}

}  // namespace gp
