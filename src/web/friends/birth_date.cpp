#include "web/friends/birth_date.h"

#include "base/utf8.h"
#include "web/friends/sign_up_form.h"

#include <array>
#include <utility>

namespace gp {
namespace {

/// The zero of each script's ten digits that phones type. Source: Unicode 15.0, general category
/// Nd; the choice of scripts is ours.
constexpr std::array<char32_t, 8> kZeros = {
    U'0', 0x0660, 0x06F0, 0x0966, 0x09E6, 0x0E50, 0xFF10, 0x07C0};

std::optional<int> digit_of(char32_t character) {
  for (const char32_t zero : kZeros) {
    if (character >= zero && character < zero + 10) return static_cast<int>(character - zero);
  }
  return std::nullopt;
}

char32_t lowered(char32_t character) {
  if (character >= U'A' && character <= U'Z') return character + 32;
  switch (character) {
    case 0xC4:  // Ä and ä, É and é, Û and û as the letters without their marks
    case 0xE4:
      return U'a';
    case 0xC9:
    case 0xE9:
      return U'e';
    case 0xDB:
    case 0xFB:
      return U'u';
    default:
      return character;
  }
}

}  // namespace

std::optional<int> typed_number(std::string_view text) {
  constexpr int kMost = 9999;
  int value = 0;
  bool any = false;
  for (const char32_t character : characters(tidy_line(text))) {
    const auto digit = digit_of(character);
    if (!digit) return std::nullopt;
    value = value * 10 + *digit;
    any = true;
    if (value > kMost) return std::nullopt;
  }
  return any ? std::optional(value) : std::nullopt;
}

std::optional<int> typed_month(std::string_view text) {
  if (const auto number = typed_number(text)) {
    return *number >= 1 && *number <= 12 ? number : std::nullopt;
  }
  std::string name;
  for (const char32_t character : characters(tidy_line(text))) {
    if (character != U'.') append_utf8(name, lowered(character));
  }
  // The shortest beginnings that tell the months apart, in English, German, French and Spanish.
  static constexpr std::array<std::pair<std::string_view, int>, 22> kBeginnings = {{
      {"jan", 1}, {"ene", 1},  {"feb", 2},  {"fev", 2},  {"mar", 3}, {"mae", 3},
      {"apr", 4}, {"avr", 4},  {"abr", 4},  {"mai", 5},  {"may", 5}, {"juin", 6},
      {"jun", 6}, {"juil", 7}, {"jul", 7},  {"aug", 8},  {"aou", 8}, {"ago", 8},
      {"sep", 9}, {"okt", 10}, {"oct", 10}, {"nov", 11},
  }};
  for (const auto& [beginning, month] : kBeginnings) {
    if (name.starts_with(beginning)) return month;
  }
  for (const std::string_view december : {"dec", "dez", "dic"}) {
    if (name.starts_with(december)) return 12;
  }
  return std::nullopt;
}

TypedDate typed_date(std::string_view day,
                     std::string_view month,
                     std::string_view year,
                     Date today) {
  using Wrong = TypedDate::Wrong;
  const bool no_day = tidy_line(day).empty();
  const bool no_month = tidy_line(month).empty();
  const bool no_year = tidy_line(year).empty();
  if (no_day && no_month && no_year) return {Wrong::missing_all, {}};
  if (no_day) return {Wrong::missing_day, {}};
  if (no_month) return {Wrong::missing_month, {}};
  if (no_year) return {Wrong::missing_year, {}};
  constexpr int kFirstYear = 1900;
  const auto d = typed_number(day);
  const auto m = typed_month(month);
  const auto y = typed_number(year);
  if (!d || !m || !y || *y < kFirstYear) return {Wrong::unreal, {}};
  const Date date{std::chrono::year(*y),
                  std::chrono::month(static_cast<unsigned>(*m)),
                  std::chrono::day(static_cast<unsigned>(*d))};
  if (*d > 31 || !date.ok()) return {Wrong::unreal, {}};
  if (date >= today) return {Wrong::future, {}};
  return {Wrong::nothing, date};
}

}  // namespace gp
