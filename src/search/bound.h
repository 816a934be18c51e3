#pragma once

#include "base/stop.h"
#include "model/plan.h"
#include "search/presence_parts.h"
#include "search/problem.h"

#include <vector>

namespace gp {

/// A number no right plan with the same scenes filmed and the same heads filled can beat under
/// least-time: weighted minutes on site, in thousandths. Everyone's engagements at the least weight
/// of those who may, every look's chain for as many people as wear it at once, one sign-in each,
/// and the waiting that no order of the scenes avoids (presence_parts.h); or, where that is more,
/// the scenes and what their heads spend before, between and after them (flow_bound.h,
/// string_bound.h).
/// \param waiting  solve_presence() of the plan's scenes, or of some of them
/// Cost: O(people × slots), and that of least_flow().
Thousandths lower_bound(const Problem& problem,
                        const Plan& plan,
                        const std::vector<SolvedPart>& waiting,
                        Stop& stop);

}  // namespace gp
