#pragma once

#include "search/recipe.h"

namespace gp::test {

/// Whether two recipes say the same.
bool same(const Recipe& a, const Recipe& b);

/// CHECKs what every recipe must be for the builder: all that the moves and sketches promise to
/// keep.
void check_sound(const Problem& problem, const Recipe& recipe);

}  // namespace gp::test
