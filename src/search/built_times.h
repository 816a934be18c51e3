#pragma once

#include "search/builder.h"

#include <optional>

namespace gp {

/// When a scene stood in the plan last built from a recipe.
struct SceneTimes {
  std::size_t day = 0;  ///< index into Problem::days
  Minute set_at{}, until{}, shoot_at{};
};
using BuiltTimes = Table<SceneId, std::optional<SceneTimes>>;  ///< none: not filmed

BuiltTimes times_of(const Problem& problem, const Builder& builder);

}  // namespace gp
