#pragma once

#include "base/stop.h"
#include "search/between.h"
#include "search/problem.h"

#include <optional>

namespace gp {

/// A number that no right plan with these slots (Between::nodes()) filled can beat: weighted
/// minutes on site, in thousandths. Each head begins its day with a scene (signs in, walks there,
/// has its look put on) or comes from an earlier one (unit and person must walk, the set be made
/// ready, the look be changed, the hours and the light come round), and ends its day there or goes
/// on. People alike (alike.h) are counted together, day by day: as many come as are in a scene at
/// once; who staffs a station spends the minutes of what is done there; and where a scene's whole
/// crowd is made ready, or changes back, at a few chairs, they wait for one another. Meals, who is
/// where when, and the order of the scenes as a whole are left out. A multicommodity flow (Ahuja,
/// Magnanti and Orlin 1993, ch. 17, from memory) as a linear program; that strings of scenes could
/// close into rings is kept in bounds by as many beginnings as a look, a role or a sort of crew has
/// heads at once. Stopped early, the bound is lower. None: too many groups of people × slots² for a
/// linear program to be solved while people wait.
std::optional<Thousandths> least_flow(const Problem& problem, const Between& between, Stop& stop);

}  // namespace gp
