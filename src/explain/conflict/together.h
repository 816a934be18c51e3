#pragma once

#include "explain/conflict/conflicts.h"
#include "explain/conflict/facts.h"

namespace gp::conflict {

/// Why a scene that could be filmed alone is not filmed (or not full) together with the others that
/// the plan films: fills in the conflict's facts. That they can be together is shown by a plan;
/// that they cannot is proven where one unit, or one person, would need more time than the scenes'
/// windows leave (every order of up to twelve scenes tried; Held and Karp 1962,
/// doi:10.1137/0110015); else it is said that the search found no way.
void explain_together(const Production& film,
                      const Wishes& wishes,
                      const Plan& plan,
                      const FactGround& ground,
                      Stop& stop,
                      Conflict& conflict);

}  // namespace gp::conflict
