#pragma once

#include "casting/slots.h"
#include "model/production.h"

#include <string>
#include <vector>

namespace gp {

/// A thing that too few people could do.
struct Shortage {
  SceneId scene;
  std::string what;  ///< the role or job
  int wanted = 0, could = 0;
};

/// How a slot is called: its role or its job.
std::string slot_name(const Production& production, SceneId scene, const Slot& slot);
/// Every slot that fewer people could fill than it needs, whoever may still say yes included.
/// Hours are not looked at: the plan does.
std::vector<Shortage> shortages(const Production& production);

}  // namespace gp
