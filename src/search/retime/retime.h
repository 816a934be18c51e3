#pragma once

#include "base/stop.h"
#include "model/plan.h"
#include "search/problem.h"

#include <cstdint>
#include <optional>

namespace gp {

/// Moves the steps of a right plan, the helpers and chairs for them and the readying of stations,
/// so that people are called later and released earlier, with the scenes and meals as they are.
/// What comes out is right and better, or the plan as it was. \param most_work  activities timed
/// before it stops, over all days \param enough     minutes from first call to first shot that
/// cannot be beaten (latest-first-call) Same arguments, same result, unless `stop` ends it.
Plan retimed(const Problem& problem,
             const Plan& plan,
             std::uint64_t seed,
             std::uint64_t most_work,
             std::optional<std::int64_t> enough,
             Stop& stop);

}  // namespace gp
