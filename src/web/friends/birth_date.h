#pragma once

#include "base/minutes.h"

#include <optional>
#include <string>
#include <string_view>

namespace gp {

/// A number as people type it: digits of any of the common scripts, blanks around it.
/// None: anything else, or above 9999.
std::optional<int> typed_number(std::string_view text);
/// "3", "03", "Mar", "march", "März", "mars", "marzo": 1 .. 12 in any language of the pages.
std::optional<int> typed_month(std::string_view text);

/// A birth date from its three fields, judged in the order in which it is told: a part is missing,
/// no such day, not in the past.
struct TypedDate {
  enum class Wrong {
    nothing,
    missing_all,
    missing_day,
    missing_month,
    missing_year,
    unreal,
    future
  };
  Wrong wrong = Wrong::nothing;
  Date date;
};
TypedDate typed_date(std::string_view day,
                     std::string_view month,
                     std::string_view year,
                     Date today);

}  // namespace gp
