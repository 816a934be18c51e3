#pragma once

#include "cli/show_plan.h"
#include "explain/why/why.h"

#include <string>

namespace gp {

/// The reasons as text for a terminal, every name made harmless.
std::string show_why(const Production& production, const WhyPerson& why, const View& view);
std::string show_why(const Production& production, const WhyScene& why, const View& view);
std::string show_why(const Production& production, const WhyStation& why, const View& view);

}  // namespace gp
