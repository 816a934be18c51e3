#pragma once

#include "base/stop.h"
#include "search/builder.h"
#include "search/presence_parts.h"
#include "search/recipe.h"

#include <vector>

namespace gp {

/// A sensible recipe to begin from: in the best of some orders of the scenes (as
/// listed, of people kept least, of several units, of crowds kept least).
/// \param cost         of the recipe
/// \param builder      left with it built
/// \param for_project  when to leave the order of several units as it is
Recipe best_beginning(const Problem& problem,
                      const std::vector<SolvedPart>& parts,
                      Builder& builder,
                      Cost& cost,
                      Stop& stop,
                      Stop& for_project);

}  // namespace gp
