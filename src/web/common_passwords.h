#pragma once

#include <string_view>

namespace gp {

/// Common passwords between blanks and line ends, all in lower case.
std::string_view common_passwords();

}  // namespace gp
