#pragma once

#include "explain/conflict/conflicts.h"

#include <string>

namespace gp::conflict {

/// What a conflict is about, in a sentence or two, without its facts.
std::string conflict_text(const Production& film, const Conflict& conflict);

}  // namespace gp::conflict
