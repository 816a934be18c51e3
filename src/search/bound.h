#pragma once

#include "model/plan.h"
#include "search/presence_parts.h"
#include "search/problem.h"

#include <optional>

namespace gp {

/// A number no right plan with the same scenes filmed and the same heads filled can beat: under
/// least-time weighted minutes on site, in thousandths; under latest-first-call minutes from the
/// first call to the first shot, times 1000. Least-time: everyone's engagements at the least weight
/// of those who may, every look's chain for as many people as wear it at once, one sign-in each,
/// and the waiting that no order of the scenes avoids (presence_parts.h); or, where that is more,
/// the scenes and what their heads spend before, between and after them (between_bound.h).
/// Latest-first-call: the longest chain of the scene that could be first, and each station's work
/// for it shared evenly among its places and staff (one-machine bound, Carlier 1982,
/// doi:10.1016/S0377-2217(82)80007-6, in its preemptive form). \param waiting  solve_presence() of
/// the plan's scenes, or of some of them Cost: O(people × slots). None: latest-first-call, and a
/// scene that needs nobody could be first, before anybody is called.
std::optional<Thousandths> lower_bound(const Problem& problem,
                                       const Plan& plan,
                                       const std::vector<SolvedPart>& waiting = {});

/// The scenes that a plan films, in order of id.
std::vector<SceneId> filmed_scenes(const Plan& plan);

}  // namespace gp
