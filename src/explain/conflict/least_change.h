#pragma once

#include "explain/conflict/conflicts.h"
#include "explain/conflict/facts.h"

#include <functional>

namespace gp::conflict {

/// What changing one fact alone does, with all else as written: whether it is enough, and the least
/// that is, found by halving (a fact whose degrees do not build on one another: from the least up).
/// Held on both sides: possible so, impossible with one less.
ConflictFact least_change(const Fact& fact,
                          const Production& film,
                          const std::function<Verdict(const Production&)>& ask);

}  // namespace gp::conflict
