#include "intake/phone.h"

#include <algorithm>

namespace gp {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// How many digits the country code at the beginning has. Zones 1 and 7 are one code each; of the
/// others these have two digits, all the rest three. Source: ITU-T E.164 D, list of assigned codes
/// (from memory; it has not changed in its two-digit codes for decades).
std::size_t country_digits(std::string_view digits) {
  if (digits.empty()) return 0;
  if (digits[0] == '1' || digits[0] == '7') return 1;
  constexpr std::string_view kTwo =
      "20 27 30 31 32 33 34 36 39 40 41 43 44 45 46 47 48 49 51 52 53 54 55 56 57 58 60 61 62 63 "
      "64 65 66 81 82 84 86 90 91 92 93 94 95 98";
  return kTwo.find(digits.substr(0, 2)) != std::string_view::npos ? 2 : 3;
}

/// What comes before an extension.
std::string_view without_extension(std::string_view text) {
  std::size_t end = text.find(';');
  for (std::size_t at = 0; at < text.size() && at < end; ++at) {
    const bool letter = (text[at] | 0x20) >= 'a' && (text[at] | 0x20) <= 'z';
    const bool digits_before =
        std::any_of(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), is_digit);
    if (letter && digits_before) end = at;
  }
  return text.substr(0, std::min(end, text.size()));
}

}  // namespace

PhoneForm phone_form(std::string_view text) {
  constexpr std::size_t kLongest = 100;  // bytes; nobody has a longer one
  text = without_extension(text.substr(0, kLongest));
  PhoneForm form;
  std::string digits;
  bool plus = false;
  std::size_t at = 0;
  while (at < text.size()) {
    const char c = text[at];
    if (c == '+' && digits.empty()) plus = true;
    // the 0 of home in brackets after a country code
    if (c == '(' && text.substr(at).starts_with("(0)") && !digits.empty()) {
      at += 3;
      continue;
    }
    if (is_digit(c)) digits += c;
    ++at;
  }
  if (!plus && digits.starts_with("00")) {
    plus = true;
    digits.erase(0, 2);
  }
  if (plus) {
    const std::size_t length = std::min(country_digits(digits), digits.size());
    form.country = digits.substr(0, length);
    digits.erase(0, length);
  }
  // in Italy the 0 belongs to the number; dropped on both sides it still compares
  digits.erase(0, std::min(digits.find_first_not_of('0'), digits.size()));
  form.national = digits;
  return form;
}

bool same_phone(const PhoneForm& a, const PhoneForm& b) {
  if (!a.usable() || a.national != b.national) return false;
  return a.country.empty() || b.country.empty() || a.country == b.country;
}

}  // namespace gp
