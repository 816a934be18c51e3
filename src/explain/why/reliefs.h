#pragma once

#include "base/stop.h"
#include "explain/why/why.h"
#include "search/planner.h"

#include <functional>

namespace gp {

/// Told before each change is tried.
using ReliefProgress = std::function<void(int tried, int of)>;

/// What small change would let the person come later on the day of that call: each change that
/// belongs to a cause in its chain (a place more at that station, a helper more with that skill,
/// that look quicker, an item more, the first shot or the station's hours later) is made alone and
/// planned again. Only those are told whose plan is right, loses no scene and no head, and really
/// calls the person later on that day.
/// \param plan    the plan that was explained; costs are counted against it
/// \param wishes  answers, day, seed and threads to plan with, and the effort of a careful plan:
/// each
///                change is tried with kReliefShare of it first, and one that helps with all of it
/// \param stop    asked between the plans and inside of them; what was found until then is told
/// Cost: at most kMostReliefs + 1 times (1 + kReliefShare) plans.
WhyReliefs find_reliefs(const Production& film,
                        const Plan& plan,
                        const WhyCall& call,
                        const Wishes& wishes,
                        Stop& stop,
                        const ReliefProgress& progress = {});

inline constexpr int kMostReliefs = 12;

/// What of the effort shows whether a change helps at all.
inline constexpr double kReliefShare = 0.25;

}  // namespace gp
