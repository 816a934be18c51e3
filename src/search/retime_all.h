#pragma once

#include "base/stop.h"
#include "model/plan.h"
#include "search/problem.h"

#include <chrono>
#include <cstddef>
#include <optional>
#include <vector>

namespace gp {

/// A plan, and the thread whose search it comes from.
struct Searched {
  Plan plan;
  std::size_t thread = 0;
};

struct Retimed {
  Searched found;
  std::optional<Thousandths> bound;  ///< that it reaches; none: not known
};

/// In the time there is. With much of it a plan that cannot be beaten may be found at once, and to
/// know that is quicker than to look for a better one until the end.
/// \param plans  one for each thread
Retimed retime_all(const Problem& problem,
                   std::vector<Searched> plans,
                   std::chrono::steady_clock::time_point start,
                   Stop& stop);

}  // namespace gp
