#include "intake/values.h"

#include "base/utf8.h"
#include "model/limits.h"
#include "model/texts.h"
#include "time/clock.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace gp {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// The numbers in a text; empty where anything but digits and the given sign stands there.
std::vector<int> numbers(std::string_view text, char sign) {
  std::vector<int> out;
  std::string_view rest = text;
  while (true) {
    const std::size_t end = std::min(rest.find(sign), rest.size());
    const std::string_view one = rest.substr(0, end);
    int value = 0;
    if (one.empty() || one.size() > 4 || !std::all_of(one.begin(), one.end(), is_digit)) return {};
    std::from_chars(one.data(), one.data() + one.size(), value);
    out.push_back(value);
    if (end == rest.size()) return out;
    rest.remove_prefix(end + 1);
  }
}

std::optional<Date> calendar_day(int year, int month, int day) {
  if (year < limits::kFirstBirthYear || month < 1 || day < 1) return std::nullopt;
  const Date date{std::chrono::year(year),
                  std::chrono::month(static_cast<unsigned>(month)),
                  std::chrono::day(static_cast<unsigned>(day))};
  return date.ok() ? parse_date(format(date)) : std::nullopt;
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c + ('a' - 'A')) : c;
  return out;
}

}  // namespace

std::string trimmed(std::string_view text) {
  constexpr std::string_view kNoBreak = "\xC2\xA0";
  while (true) {
    if (!text.empty() && std::string_view(" \t\r\n").find(text.front()) != std::string_view::npos) {
      text.remove_prefix(1);
    } else if (text.starts_with(kNoBreak)) {
      text.remove_prefix(kNoBreak.size());
    } else {
      break;
    }
  }
  while (true) {
    if (!text.empty() && std::string_view(" \t\r\n").find(text.back()) != std::string_view::npos) {
      text.remove_suffix(1);
    } else if (text.ends_with(kNoBreak)) {
      text.remove_suffix(kNoBreak.size());
    } else {
      break;
    }
  }
  return std::string(text);
}

std::string on_one_line(std::string_view text) {
  std::string out;
  for (const char32_t c : characters(text)) {
    const bool line = c == U'\t' || c == U'\n' || c == U'\r' || c == 0x2028 || c == 0x2029;
    const bool control = c < 0x20 || (c >= 0x7F && c <= 0x9F);
    if (line) {
      if (!out.ends_with(' ')) out += ' ';
    } else if (!control) {
      append_utf8(out, c);
    }
  }
  return out;
}

std::string without_controls(std::string_view text) {
  std::string out;
  for (const char32_t c : characters(text)) {
    const bool line = c == U'\t' || c == U'\n' || c == U'\r';
    const bool control = c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x2028 || c == 0x2029;
    if (!control || line) append_utf8(out, c);
  }
  return out;
}

namespace {

/// What stands between these signs, with its `\,` `\;` and `\\` as they are.
std::vector<std::string> parted(std::string_view text, std::string_view signs) {
  std::vector<std::string> out(1);
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] == '\\' && at + 1 < text.size()) {
      out.back() += text[at];
      // only what it marks is kept from parting
      if (const char next = text[at + 1]; next == ',' || next == ';' || next == '\\') {
        out.back() += next;
        ++at;
      }
    } else if (signs.find(text[at]) != std::string_view::npos) {
      out.emplace_back();
    } else {
      out.back() += text[at];
    }
  }
  return out;
}

/// Trimmed, the marked signs as themselves.
std::string unmarked(const std::string& text) {
  std::string plain;
  for (std::size_t at = 0; at < text.size(); ++at) {
    const char next = at + 1 < text.size() ? text[at + 1] : '\0';
    if (text[at] == '\\' && (next == ',' || next == ';' || next == '\\')) ++at;
    plain += text[at];
  }
  return trimmed(on_one_line(plain));
}

}  // namespace

std::vector<std::string> list_words(std::string_view text) {
  std::vector<std::string> out;
  for (const std::string& word : parted(text, ",;\n\r")) {
    std::string one = unmarked(word);
    if (!one.empty() && std::find(out.begin(), out.end(), one) == out.end()) {
      out.push_back(std::move(one));
    }
  }
  return out;
}

std::vector<ListPart> list_parts(std::string_view text) {
  std::vector<ListPart> out;
  for (const std::string& part : parted(text, ";\n\r")) {
    ListPart read{unmarked(part), list_words(part)};
    if (!read.words.empty()) out.push_back(std::move(read));
  }
  return out;
}

std::string listed_words(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) {
    if (!out.empty()) out += "; ";
    for (const char c : word) {
      if (c == ',' || c == ';' || c == '\\') out += '\\';
      out += c;
    }
  }
  return out;
}

std::optional<Answer> answer_word(std::string_view folded) {
  struct Word {
    std::string_view word;
    Answer answer;
  };
  static constexpr std::array<Word, 24> kWords = {{{"yes", Answer::yes},
                                                   {"y", Answer::yes},
                                                   {"true", Answer::yes},
                                                   {"coming", Answer::yes},
                                                   {"ja", Answer::yes},
                                                   {"oui", Answer::yes},
                                                   {"si", Answer::yes},
                                                   {"sim", Answer::yes},
                                                   {"tak", Answer::yes},
                                                   {"no", Answer::no},
                                                   {"n", Answer::no},
                                                   {"false", Answer::no},
                                                   {"not coming", Answer::no},
                                                   {"nein", Answer::no},
                                                   {"non", Answer::no},
                                                   {"nie", Answer::no},
                                                   {"nao", Answer::no},
                                                   {"maybe", Answer::maybe},
                                                   {"perhaps", Answer::maybe},
                                                   {"vielleicht", Answer::maybe},
                                                   {"peut etre", Answer::maybe},
                                                   {"quiza", Answer::maybe},
                                                   {"quizas", Answer::maybe},
                                                   {"asked", Answer::asked}}};
  for (const Word& one : kWords) {
    if (one.word == folded) return one.answer;
  }
  return std::nullopt;
}

std::optional<Date> date_of(std::string_view text, DateOrder order) {
  const std::string plain = trimmed(text);
  std::string_view day = plain;
  // a moment of a day: 1996-04-15T23:10:00Z
  if (const std::size_t clock = day.find('T'); clock != std::string_view::npos && clock >= 8) {
    day = day.substr(0, clock);
  }
  if (day.size() == 8 && std::all_of(day.begin(), day.end(), is_digit)) {
    return parse_date(std::string(day.substr(0, 4)) + "-" + std::string(day.substr(4, 2)) + "-" +
                      std::string(day.substr(6)));
  }
  for (const char sign : {'-', '/', '.'}) {
    const std::vector<int> parts = numbers(day, sign);
    if (parts.size() != 3) continue;
    if (parts[0] > 31) return calendar_day(parts[0], parts[1], parts[2]);
    if (parts[2] < limits::kFirstBirthYear) return std::nullopt;  // two digits: which century?
    const bool day_first = sign == '.' || parts[0] > 12 ||
                           (order == DateOrder::day_first && parts[1] <= 12) ||
                           parts[0] == parts[1];
    const bool month_first = parts[1] > 12 || order == DateOrder::month_first;
    if (day_first) return calendar_day(parts[2], parts[1], parts[0]);
    if (month_first) return calendar_day(parts[2], parts[0], parts[1]);
    return std::nullopt;
  }
  return std::nullopt;
}

DateOrder date_order(const std::vector<std::string>& texts) {
  bool day_first = false;
  bool month_first = false;
  for (const std::string& text : texts) {
    for (const char sign : {'-', '/'}) {
      const std::vector<int> parts = numbers(trimmed(text), sign);
      if (parts.size() != 3 || parts[0] > 31) continue;
      day_first = day_first || parts[0] > 12;
      month_first = month_first || parts[1] > 12;
    }
  }
  if (day_first == month_first) return DateOrder::unknown;
  return day_first ? DateOrder::day_first : DateOrder::month_first;
}

std::optional<std::vector<FreeTime>> free_times(std::string_view text) {
  std::vector<FreeTime> out;
  if (lower(trimmed(text)) == "never") return out;
  for (const std::string& word : list_words(text)) {
    const std::size_t blank = std::min(word.find(' '), word.size());
    const auto date = parse_date(word.substr(0, blank));
    if (!date || static_cast<int>(date->year()) < limits::kFirstYear ||
        static_cast<int>(date->year()) > limits::kLastYear) {
      return std::nullopt;
    }
    FreeTime free{*date, std::nullopt};
    if (blank < word.size()) {
      free.hours = parse_wall_span(word.substr(blank + 1));
      if (!free.hours || free.hours->until <= free.hours->from) return std::nullopt;
    }
    if (std::find(out.begin(), out.end(), free) == out.end()) out.push_back(free);
  }
  return out.empty() ? std::nullopt : std::optional(out);
}

std::string written_free_times(const std::vector<FreeTime>& free) {
  if (free.empty()) return "never";
  std::string out;
  for (const FreeTime& time : free) {
    out += (out.empty() ? "" : "; ") + format(time.date);
    if (time.hours) out += " " + format(*time.hours);
  }
  return out;
}

std::optional<Minutes> minutes_of(std::string_view text) {
  const std::string plain = lower(trimmed(text));
  double total = 0;
  double unit = 0;  // of the number before, 0: none yet
  std::size_t at = 0;
  bool any = false;
  while (at < plain.size()) {
    if (plain[at] == ' ') {
      ++at;
      continue;
    }
    const std::size_t end = std::min(plain.find_first_not_of("0123456789.,", at), plain.size());
    const auto number = number_of(plain.substr(at, end - at));
    if (!number) return std::nullopt;
    at = end;
    while (at < plain.size() && plain[at] == ' ') ++at;
    if (at < plain.size() && plain[at] == ':') {  // 1:30, hours and minutes
      if (any) return std::nullopt;
      const auto rest = number_of(plain.substr(at + 1));
      if (!rest || plain.size() != at + 3 || *rest >= 60) return std::nullopt;
      total = *number * 60 + *rest;
      at = plain.size();
    } else {
      const std::size_t word_end = std::min(plain.find_first_of(" 0123456789", at), plain.size());
      const std::string word = plain.substr(at, word_end - at);
      at = word_end;
      const double before = unit;
      if (word == "h" || word == "hr" || word == "hrs" || word == "hour" || word == "hours" ||
          word == "std") {
        unit = 60;
      } else if (word == "s" || word == "sec" || word == "secs" || word == "second" ||
                 word == "seconds" || word == "\"") {
        unit = 1.0 / 60;
      } else if (word.empty() || word == "m" || word == "min" || word == "min." || word == "mins" ||
                 word == "minute" || word == "minutes" || word == "minuten" || word == "'" ||
                 word == "\xE2\x80\xB2" || word == "\xE2\x80\x99") {
        unit = 1;
      } else {
        return std::nullopt;
      }
      if (any && unit >= before) return std::nullopt;  // "30 20", "5 min 1 h"
      total += *number * unit;
    }
    any = true;
  }
  const double whole = std::ceil(total - 1e-9);
  if (!any || whole < 0 || whole > limits::kMinutes) return std::nullopt;
  return Minutes{static_cast<std::int32_t>(whole)};
}

std::optional<double> number_of(std::string_view text) {
  std::string plain = trimmed(text);
  constexpr std::size_t kLongest = 40;
  if (plain.empty() || plain.size() > kLongest) return std::nullopt;
  std::replace(plain.begin(), plain.end(), ',', '.');
  double value = 0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  if (error != std::errc() || end != plain.data() + plain.size() || !std::isfinite(value)) {
    return std::nullopt;
  }
  return value;
}

std::string written_number(double number) {
  std::array<char, 64> digits{};
  const auto [end, error] = std::to_chars(digits.data(), digits.data() + digits.size(), number);
  return error == std::errc() ? std::string(digits.data(), end) : std::string();
}

}  // namespace gp
