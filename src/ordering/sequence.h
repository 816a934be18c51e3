#pragma once

#include "model/production.h"

#include <vector>

namespace gp {

/// The same scenes in an order that keeps every `after`, as near to the given one as moving a
/// scene's forerunners in front of it makes it. Cost: O(scenes + afters). Requires that no `after`
/// goes in a circle (the reader refuses those).
std::vector<SceneId> forerunners_first(const Production& production,
                                       const std::vector<SceneId>& order);

}  // namespace gp
