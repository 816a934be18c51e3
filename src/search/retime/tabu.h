#pragma once

#include "base/random.h"
#include "base/stop.h"
#include "search/retime/aim.h"
#include "search/retime/graph.h"

#include <cstdint>

namespace gp {

/// Makes the queues better: changes what holds somebody's first activity back and may not undo what
/// it just did (tabu search: Nowicki and Smutnicki 1996, doi:10.1287/mnsc.42.6.797; by estimated
/// paths: Taillard 1994, doi:10.1287/ijoc.6.2.108); after long without gain it goes on from one of
/// the best found, shaken.
/// \param graph      timed; left as the best found, timed
/// \param enough     a RetimeCost::early that cannot be beaten: it stops there; only where the
/// first
///                   call comes first
/// \param most_work  nodes timed before it stops
/// Same arguments, same result, unless `stop` ends it.
RetimeCost improve(RetimeGraph& graph,
                   const RetimeAim& aim,
                   std::int64_t enough,
                   Random& random,
                   std::uint64_t most_work,
                   Stop& stop);

}  // namespace gp
