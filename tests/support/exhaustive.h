#pragma once

#include "model/plan.h"
#include "model/price.h"
#include "model/production.h"

#include <cstdint>
#include <optional>

namespace gp::test {

/// What trying everything found.
struct Exhausted {
  std::optional<Plan> best;  ///< none: there is no plan as good as the limit
  Price price;               ///< of `best`
  std::uint64_t tried = 0;   ///< scenes placed with their people
  bool whole = true;         ///< false: more than `most` had to be tried; nothing is known
};

/// The best plan of a small production by trying all of them: which scenes are filmed, in every
/// order, at every start of a grid of five minutes, with every choice of people, meals together at
/// every time of the grid. Knows nothing of the planner: plans are put together here, their calls
/// counted by recount_stays(), and judged by check(). What is no better than the best so far is
/// left off; all its parts only grow as scenes are added.
///
/// For productions of one day and one unit in which nobody has a look on, no light is asked for,
/// meals are together and every length and time is a multiple of five minutes: then some best plan
/// lies on the grid, but for those that come just too late to be fed (all other rules are
/// differences of starts against multiples of five, so rounding every start down to one keeps them,
/// and the sum of stays is least at a corner). wrap_by must be given. \param limit  plans worse
/// than this are not looked for
Exhausted best_of_all(const Production& film, const Price& limit, std::uint64_t most);

}  // namespace gp::test
