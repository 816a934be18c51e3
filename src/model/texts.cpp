#include "model/texts.h"

#include "base/utf8.h"
#include "model/known_ids.h"
#include "time/clock.h"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace gp {
namespace {

constexpr std::size_t kLongestGuess = 40;  // bytes; nobody writes a longer time

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// The runs of digits in a text.
std::vector<std::string> digits_of(std::string_view text) {
  std::vector<std::string> runs;
  bool inside = false;
  for (const char c : text) {
    if (is_digit(c)) {
      if (!inside) runs.emplace_back();
      runs.back() += c;
    }
    inside = is_digit(c);
  }
  return runs;
}

std::string padded(const std::string& digits, std::size_t width) {
  return digits.size() >= width ? digits : std::string(width - digits.size(), '0') + digits;
}

std::string clock_text(const std::string& hour, const std::string& minute) {
  std::string result = padded(hour, 2) + ":" + minute;
  return parse_wall_time(result) ? result : std::string();
}

}  // namespace

bool has_control_characters(std::string_view text, bool lines) {
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint point = decode_utf8(text, at);
    const char32_t c = point.value;
    const bool line = c == U'\t' || c == U'\n' || c == U'\r';
    const bool control = c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x2028 || c == 0x2029;
    if (control && !(lines && line)) return true;
    at += std::max<std::size_t>(point.bytes, 1);
  }
  return false;
}

bool is_language_tag(std::string_view text) {
  if (text.size() > 35) return false;
  std::size_t length = 0;
  bool first = true;
  for (const char c : text) {
    if (c == '-') {
      if (length < (first ? 2U : 1U)) return false;
      first = false;
      length = 0;
    } else if (!(is_letter(c) || (is_digit(c) && !first)) || ++length > 8) {
      return false;
    }
  }
  return length >= (first ? 2U : 1U);
}

std::string time_like(std::string_view text) {
  if (text.size() > kLongestGuess) return {};
  const std::vector<std::string> runs = digits_of(text);
  if (runs.size() == 2 && runs[0].size() <= 2 && runs[1].size() == 2) {
    return clock_text(runs[0], runs[1]);
  }
  if (runs.size() == 1 && (runs[0].size() == 3 || runs[0].size() == 4)) {
    const std::size_t hours = runs[0].size() - 2;
    return clock_text(runs[0].substr(0, hours), runs[0].substr(hours));
  }
  if (runs.size() == 1 && runs[0].size() <= 2) return clock_text(runs[0], "00");
  return {};
}

std::string span_like(std::string_view text) {
  if (text.size() > kLongestGuess) return {};
  const std::vector<std::string> runs = digits_of(text);
  std::string from;
  std::string until;
  if (runs.size() == 4) {
    from = clock_text(runs[0], runs[1]);
    until = clock_text(runs[2], runs[3]);
  } else if (runs.size() == 2) {
    from = time_like(runs[0]);
    until = time_like(runs[1]);
  }
  if (from.empty() || until.empty()) return {};
  return from < until ? from + "-" + until : std::string();
}

std::string next_day(WallSpan span) {
  span.until.minutes += 24 * 60;
  if (span.until <= span.from || span.until > kLatestWallTime) return {};
  return format(span);
}

std::string date_like(std::string_view text) {
  if (text.size() > kLongestGuess) return {};
  const std::vector<std::string> runs = digits_of(text);
  std::string result;
  if (runs.size() == 3 && runs[0].size() == 4) {
    result = runs[0] + "-" + padded(runs[1], 2) + "-" + padded(runs[2], 2);
  } else if (runs.size() == 1 && runs[0].size() == 8) {
    result = runs[0].substr(0, 4) + "-" + runs[0].substr(4, 2) + "-" + runs[0].substr(6);
  }
  return parse_date(result) && result != text ? result : std::string();
}

std::string id_like(std::string_view text) {
  if (text.size() > 4 * kLongestGuess) return {};
  std::string result(text);
  std::replace_if(
      result.begin(),
      result.end(),
      [](char c) {
        return static_cast<unsigned char>(c) < 0x80 && !is_digit(c) && !is_letter(c) && c != '_';
      },
      '-');
  return is_id(result) ? result : std::string();
}

std::string id_of_name(const std::string& name) {
  constexpr std::size_t kLongest = 40;  // characters; leaves room for a number behind
  std::string id;
  std::size_t count = 0;
  bool gap = false;
  for (const char32_t c : characters(name)) {
    const char32_t small = c >= U'A' && c <= U'Z' ? c + (U'a' - U'A') : c;
    std::string letter;
    append_utf8(letter, small);
    if (small == U'-' || small == U'_' || small == 0xFFFD || !is_id(letter)) {
      gap = !id.empty();
      continue;
    }
    if (count >= kLongest) break;
    if (gap) id += '-';
    gap = false;
    id += letter;
    ++count;
  }
  return id;
}

}  // namespace gp
