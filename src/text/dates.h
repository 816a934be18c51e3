#pragma once

#include "base/minutes.h"

#include <string>

namespace gp {

/// "Saturday, 17 April 2027" as the language writes it (CLDR). \param language  BCP 47
std::string long_date(Date date, const std::string& language);
/// "Sat, 17 April" as the language writes it.
std::string short_date(Date date, const std::string& language);

}  // namespace gp
