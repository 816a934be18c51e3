#pragma once

#include "casting/random_days.h"
#include "explain/absence/stand_ins.h"

#include <cstdint>
#include <vector>

// What a plan is worth when people stay away: how likely it is that every scene is filmed.

namespace gp::absence {

struct SceneChance {
  SceneId scene;
  Likelihood filmed;  ///< that its parts are played and their looks can be put on
};

struct Survival {
  std::vector<Duty> duties;         ///< parts, crowds, crew, helpers
  Likelihood all_filmed;            ///< of the scenes that the plan films
  std::vector<SceneChance> scenes;  ///< the one that would fail first (least likely) first
};

/// A scene is filmed when each of its parts has its person or a stand-in, and so has each helper of
/// these parts' looks; a stand-in takes one duty of the day (a matching). Crowds and crew may be
/// short, as in any plan. The chance is a lower limit: other changes of the plan might do too.
/// \param plan  right for the answers. Cost: 10,000 matchings a scene where many may stay away.
Survival survival_of(const Production& production,
                     const Plan& plan,
                     Answers answers,
                     std::uint64_t seed = 1);

/// Parts and helpers alone, without the chances of single scenes: Survival::all_filmed and those of
/// Survival::duties that decide over it. Much cheaper.
Survival short_survival_of(const Production& production,
                           const Plan& plan,
                           Answers answers,
                           std::uint64_t seed = 1);

}  // namespace gp::absence
