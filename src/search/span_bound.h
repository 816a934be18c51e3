#pragma once

#include "base/stop.h"
#include "model/plan.h"
#include "search/problem.h"

#include <cstdint>
#include <optional>

namespace gp {

/// Under latest-first-call a number no right plan with the same scenes filmed and the same heads
/// filled can beat: minutes from the first call to the first shot, in thousandths, of some filmed
/// day. Whatever is shot first, everybody in it has signed in, walked and had their look put on
/// by then, on the chairs and by the helpers that there are (chain_span.h). Items, meals, hours and
/// who else the helpers paint are left out.
/// \param at_most  what the plan takes, in minutes: no more is asked
/// \param work     as of chain_span_bound(), for all scenes together
/// None: a scene that needs nobody could be first, before anybody is called.
std::optional<Thousandths> span_bound(
    const Problem& problem, const Plan& plan, std::int64_t at_most, std::int64_t work, Stop& stop);

}  // namespace gp
