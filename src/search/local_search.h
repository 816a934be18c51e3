#pragma once

#include "base/random.h"
#include "base/stop.h"
#include "search/builder.h"
#include "search/cost.h"
#include "search/recipe.h"

#include <cstdint>
#include <functional>
#include <optional>

namespace gp {

struct Best {
  Recipe recipe;
  Cost cost;
  std::uint64_t built = 0;  ///< recipes built
  bool whole = true;        ///< false: even the first was cut short; the builder still holds it
};

/// Told after each recipe built: the best so far and the share of the work done.
using SearchSink = std::function<void(const Cost& best, double share)>;

/// Changes a recipe again and again, from several beginnings of which the better go on, and keeps
/// what late acceptance lets through: no worse than now, or than some builds ago. Lexicographic
/// costs need only be compared, never weighed against each other.
/// \param most_work  engagements looked at before it stops; 0: only `stop` ends it
/// \param enough     Cost::weighted of a plan with nothing lost that none can beat: the search ends
///                   soon after it is reached
/// Source: late acceptance hill climbing, Burke and Bykov 2017, doi:10.1016/j.ejor.2016.07.012.
/// Same recipe, seed and work: same result.
Best search_from(const Problem& problem,
                 Builder& builder,
                 const Recipe& first,
                 std::uint64_t seed,
                 std::uint64_t most_work,
                 std::optional<std::int64_t> enough,
                 Stop& stop,
                 const SearchSink& sink);

}  // namespace gp
