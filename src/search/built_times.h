#pragma once

#include "search/builder.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace gp {

/// When a scene stood in the plan last built from a recipe.
struct SceneTimes {
  std::size_t day = 0;  ///< index into Problem::days
  Minute set_at{}, until{}, shoot_at{};
};
using BuiltTimes = Table<SceneId, std::optional<SceneTimes>>;  ///< none: not filmed

BuiltTimes times_of(const Problem& problem, const Builder& builder);

/// The scenes of a day (index into Problem::days), in order of time.
std::vector<SceneId> scenes_on(const BuiltTimes& times, std::size_t day);

/// Those of them that the unit of a scene films, on the day of that scene.
std::vector<SceneId> row_of(const Problem& problem, const BuiltTimes& times, SceneId any);

}  // namespace gp
