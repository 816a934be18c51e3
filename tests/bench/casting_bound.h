#pragma once

#include "casting/cast_problem.h"

#include <cstdint>
#include <optional>
#include <string>

namespace gp::bench {

/// No casting of the problem costs less, friends left out: the larger of two bounds that need no
/// solver. In both everybody may in a scene who may at any of its moments. Either a part may be
/// another person in each scene (weak where parts are in many scenes), or each part costs what it
/// costs least by itself, and crowds and crew what they cost without parts (weak where the same
/// people do both). An empty place must cost more than anything that fills it.
std::int64_t casting_bound(const CastProblem& problem);

/// The problem as JSON, for tests/bench/solver/casting.py.
std::string casting_numbers(const CastProblem& problem);

/// What a general-purpose solver said of exactly this problem.
struct SolvedCasting {
  std::int64_t bound = 0;  ///< no casting in which nothing stays empty costs less
  std::int64_t found = 0;  ///< the solver's own best; 0: it found none
};
/// From tests/data/casting/solved.txt; none: it stands there not, or as another problem.
std::optional<SolvedCasting> solved_casting(const CastProblem& problem);

}  // namespace gp::bench
