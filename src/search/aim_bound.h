#pragma once

#include "base/stop.h"
#include "search/presence_parts.h"
#include "search/problem.h"

#include <optional>
#include <vector>

namespace gp {

/// Work for the bound on the morning's length where no time is given, in tasks looked at: to prove
/// it, and to know while planning when it is enough.
constexpr double kSpanProof = 60'000'000;
constexpr double kSpanGlance = 3'000'000;

/// What no plan that films and fills the same can beat, in thousandths, under the production's aim:
/// lower_bound() or span_bound(). None: not known.
/// \param parts  solve_presence() of the plan's scenes, or of some of them
/// \param work   for the bound on the morning's length
std::optional<Thousandths> bound_of(const Problem& problem,
                                    const Plan& plan,
                                    const std::vector<SolvedPart>& parts,
                                    double work,
                                    Stop& stop);

}  // namespace gp
