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

/// A filling of little cost: parts, moments and heads together by simulated annealing
/// (casting/cast_anneal.h), each round followed by the heads at the least cost for the parts and
/// moments found (casting/head_flow.h); then who has which part and when each scene could be shot
/// by local search (one part to somebody else, two parts exchanged, one taken over and its holder's
/// other part given away, a scene at another moment; then a few parts shaken and again: iterated
/// local search, Lourenço, Martin and Stützle 2003, doi:10.1007/0-306-48056-5_11, from memory),
/// with crowds and crew at the least cost there is for every such choice. Friends: the filling
/// again with a bonus for those whose friend was there, then single heads exchanged.
/// Always right (cast_right()). The same problem, seed and effort give the same filling where
/// floating point is rounded alike. Cost: up to 6,000,000 moves and some 15,000 heads filled anew,
/// times `effort`; docs/who.md. When it is stopped, the best by then, but crowds and crew are
/// filled once whatever `stop` says (200 people: some 0.1 s; 1,000: some 0.4 s). Threads: pure.
CastSolution solve_cast(const CastProblem& problem,
                        const CastEffort& effort,
                        Stop& stop,
                        const CastProgress& progress = {});

}  // namespace gp
