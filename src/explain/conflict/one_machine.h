#pragma once

#include "explain/conflict/alone.h"
#include "model/production.h"

namespace gp::conflict {

/// Whether all scenes of the production are proven not to fit together: those of one unit (with the
/// least set-up each can have), or those that one certain person plays in, cannot follow each other
/// in any order within the starts that each could have alone. Every order of up to twelve is tried
/// by the earliest end of each set of them (Held and Karp 1962, doi:10.1137/0110015). False proves
/// nothing.
bool proven_too_much(const Production& film, const Terms& terms);

}  // namespace gp::conflict
