#pragma once

#include "explain/why/why.h"

#include <string>

namespace gp {

/// The reasons as JSON, described in docs/why.md; ends in a newline. Same reasons, same bytes.
std::string write_why(const Production& film, const WhyPerson& why);
std::string write_why(const Production& film, const WhyScene& why);
std::string write_why(const Production& film, const WhyStation& why);

}  // namespace gp
