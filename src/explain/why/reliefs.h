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
/// \param wishes  answers, day, seed, threads and effort to plan with
/// \param stop    asked between the plans and inside of them; what was found until then is told
/// Cost: one make_plan() a change, at most kMostReliefs, and one with nothing changed.
WhyReliefs find_reliefs(const Production& film,
                        const Plan& plan,
                        const WhyCall& call,
                        const Wishes& wishes,
                        Stop& stop,
                        const ReliefProgress& progress = {});

inline constexpr int kMostReliefs = 12;

/// The effort that find_reliefs() is best asked with: a part of what a plan itself takes.
inline constexpr double kReliefEffort = 0.25;

}  // namespace gp
