#pragma once

#include "base/random.h"
#include "model/plan.h"
#include "model/production.h"

#include <string>
#include <vector>

namespace gp::test {

/// A right plan made wrong on purpose.
struct BrokenPlan {
  int aimed = 0;    ///< the rule that it was meant to break; others may go with it. 0: any
  std::string way;  ///< "a step left out"
  Plan plan;
};

/// The plan broken in every rule and in every way that it offers a place for, each once, at a
/// random place; each on a copy of its own. Half of them have their calls and sums counted anew, so
/// that rule 11 does not drown the others. What could not be written into a file (a moment that no
/// clock shows) is left out. A way may by chance leave the plan right.
std::vector<BrokenPlan> break_plan(const Production& production, const Plan& right, Random& random);

}  // namespace gp::test
