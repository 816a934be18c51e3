#pragma once

#include "model/plan.h"
#include "search/problem.h"

#include <vector>

namespace gp {

/// Heads of one slot that a plan fills.
struct FilledSlot {
  SceneId scene;
  const Slot* slot = nullptr;
  int heads = 0;
};

/// The scenes that a plan films, in order of id.
std::vector<SceneId> filmed_scenes(const Plan& plan);

/// Every slot of the scene, with as many heads as the plan does not name as missing. Points into
/// the problem.
std::vector<FilledSlot> filled_slots(const Problem& problem, const Plan& plan, SceneId scene);

}  // namespace gp
