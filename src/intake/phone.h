#pragma once

#include <string>
#include <string_view>

namespace gp {

/// A phone number as digits, so that the ways to write one can be compared.
struct PhoneForm {
  std::string country;   ///< its country code; empty: written without one
  std::string national;  ///< the rest, without the 0 that is dialled before it at home

  /// Too short to be anybody's own: an extension, an emergency number.
  [[nodiscard]] bool usable() const { return national.size() >= 6; }
};

/// "+44 (0)7700 900123", "0044 7700 900123", "tel:+44-7700-900123" and "07700 900123" have the same
/// national part; an extension ("ext. 12", ";ext=12", "x12") counts for nothing.
/// Source: ITU-T E.164 (at most 15 digits; country codes of one to three digits, none the beginning
/// of another). Digits of any script are not read: phones are written in ASCII or are not compared.
PhoneForm phone_form(std::string_view text);

/// The same phone as far as can be told: equal national parts, and no two different countries.
bool same_phone(const PhoneForm& a, const PhoneForm& b);

}  // namespace gp
