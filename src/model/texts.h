#pragma once

#include "base/spans.h"

#include <string>
#include <string_view>

// What the texts of a file may look like, and what was probably meant by one that does not.

namespace gp {

inline constexpr const char* kSpanPastMidnight =
    "an end after the beginning (past midnight the hours go on: \"22:00-26:00\")";

/// Control characters (Unicode category Cc) and the two line separators.
/// \param lines  whether line ends and tabs are welcome
bool has_control_characters(std::string_view text, bool lines);

/// Shaped like a language tag: subtags of letters and digits, 1 to 8 each, the first of 2 to 8
/// letters; at most 35 characters. Source: RFC 5646 sections 2.1 and 4.4.1.
bool is_language_tag(std::string_view text);

/// "9:30", "9.30", "0930" → "09:30"; empty where no time can be made out.
std::string time_like(std::string_view text);
/// "9:30 – 13:00" → "09:30-13:00".
std::string span_like(std::string_view text);
/// The span with its end on the next day; empty where that is past 99:59.
std::string next_day(WallSpan span);
/// "2027-4-7", "2027/04/07" → "2027-04-07".
std::string date_like(std::string_view text);
/// "Fog Machine" → "Fog-Machine"; empty where no id can be made of it.
std::string id_like(std::string_view text);
/// "Noor Haddad" → "noor-haddad", an id made of a name; letters of every script stay, at most 40.
/// Empty where none is in it.
std::string id_of_name(const std::string& name);

}  // namespace gp
