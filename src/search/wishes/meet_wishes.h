#pragma once

#include "base/stop.h"
#include "model/plan.h"
#include "search/problem.h"

#include <cstdint>

namespace gp {

/// The plan with more of what people like, where that costs nobody anything: two people change
/// places, with all that they do on a day or in the whole plan, or somebody takes another's place
/// in one scene where no look is worn. Kept where wishes gain (WishPoints) and the plan is right,
/// films and fills the same and is not dearer; who has a guardian or is one stays. A climb, not the
/// most that could be met. Reasons, notes and the bound are left as they are.
/// \param most_tries  changes built and judged, some thousand in a second for 30 people
Plan with_wishes_met(const Problem& problem,
                     const Plan& plan,
                     std::uint64_t most_tries,
                     Stop& stop);

}  // namespace gp
