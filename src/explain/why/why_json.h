#pragma once

#include "explain/conflict/conflicts.h"
#include "explain/why/why.h"

#include <string>

namespace gp {

/// The reasons as JSON, described in docs/why.md; ends in a newline. Same reasons, same bytes.
std::string write_why(const Production& film, const WhyPerson& why);
/// \param conflicts  what stands in the way of what the plan leaves out of the scene
/// (docs/cannot.md)
std::string write_why(const Production& film, const WhyScene& why, const Conflicts& conflicts = {});
std::string write_why(const Production& film, const WhyStation& why);

}  // namespace gp
