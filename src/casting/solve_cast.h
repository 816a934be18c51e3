#pragma once

#include "base/stop.h"
#include "casting/cast_problem.h"

#include <cstdint>
#include <functional>

namespace gp {

struct CastEffort {
  std::uint64_t seed = 1;
  double effort = 1;  ///< of the fixed amount of work, more or less of it; > 0
};

/// Share of the work done, 0 .. 1, and the least cost so far.
using CastProgress = std::function<void(double share, std::int64_t cost)>;

/// A filling of little cost: who has which part and when each scene could be shot by local search
/// (one part to somebody else, two parts exchanged, one taken over and its holder's other part
/// given away, a scene at another moment; then a few parts shaken and again: iterated local search,
/// Lourenço, Martin and Stützle 2003, doi:10.1007/0-306-48056-5_11, from memory); for every such
/// choice crowds and crew at the least cost there is (casting/head_flow.h). Friends: the filling
/// again with a bonus for those whose friend was there, then single heads exchanged.
/// Always right (cast_right()). The same problem, seed and effort give the same filling.
/// Cost: some 100,000 heads filled anew times `effort`; docs/who.md. Threads: pure.
CastSolution solve_cast(const CastProblem& problem,
                        const CastEffort& effort,
                        Stop& stop,
                        const CastProgress& progress = {});

}  // namespace gp
