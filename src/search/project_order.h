#pragma once

#include "base/stop.h"
#include "search/problem.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace gp {

/// An order of the scenes that ends the day early where several units film at a time and share
/// props and people: taken in it, one after the other as early as may be, they end when the project
/// does. Looks, ways and windows are not asked. None: one unit alone, or several days to choose
/// from.
/// \param most_schedules  see search_project()
std::optional<std::vector<SceneId>> project_order(const Problem& problem,
                                                  std::uint64_t most_schedules,
                                                  Stop& stop);

}  // namespace gp
