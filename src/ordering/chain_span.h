#pragma once

#include "base/stop.h"
#include "ordering/chains.h"

#include <cstdint>

namespace gp {

/// A number of minutes in which the chains cannot be done sooner, at most `at_most`: the largest
/// that ChainWindows refutes, plus one (a destructive bound, Klein and Scholl 1999,
/// doi:10.1016/S0377-2217(97)00442-6). Work that is left goes into refuting `at_most` - 1 by branch
/// and bound on which of two tasks is first, so that a schedule that takes `at_most` is known to be
/// the best.
/// \param at_most  >= 0
/// \param work     tasks looked at, some 100,000,000 in a second
/// Same arguments, same result, unless `stop` ends it.
std::int32_t chain_span_bound(const ChainProblem& problem,
                              std::int32_t at_most,
                              std::int64_t work,
                              Stop& stop);

}  // namespace gp
