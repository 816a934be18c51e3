#pragma once

#include "base/stop.h"
#include "ordering/presence_search.h"

#include <cstdint>

namespace gp {

struct ExactPresence {
  PresenceOrder best;
  std::int64_t bound = 0;   ///< no order is cheaper
  std::uint64_t nodes = 0;  ///< gaps looked at
  [[nodiscard]] bool proven() const { return bound == best.value; }
};

/// The order of least presence, and how far it may be from the best where there was no time to
/// prove it: branch and bound from both ends of the day at once, with what is known of each gap
/// kept (dynamic programming with bounds: Garcia de la Banda, Stuckey and Chu 2011,
/// doi:10.1287/ijoc.1090.0378; both ends: Qin, Zhang, Lim and Liang 2016,
/// doi:10.1016/j.ejor.2015.10.004), deepened from the bound towards `start` so that the bound
/// rises while it works. A scene is left out as the next one where another, whose people are all
/// there already or come for it anyway and which all those there are in, is better first; scenes
/// that differ only in people who are there all through are put together; a gap read backwards is
/// the same gap. What PresenceBound does not rule out, ComingsBound is asked about.
/// \param problem     at most 64 scenes (reduced() before)
/// \param start       a right order, the better the faster
/// \param most_nodes  gaps looked at, 200 steps of ComingsBound counting as one more (some seconds
///                    for 100,000); memory is at most some 64 MB
/// Same arguments, same result, unless `stop` ends it.
ExactPresence exact_presence(const PresenceProblem& problem,
                             const PresenceOrder& start,
                             std::uint64_t most_nodes,
                             Stop& stop);

}  // namespace gp
