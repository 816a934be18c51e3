#pragma once

#include "explain/absence/stand_ins.h"
#include "search/planner.h"

namespace gp::absence {

/// So many plans are made and compared, each with its share of the work asked for.
inline constexpr int kPlansCompared = 4;
/// Chances this near are as good as each other.
inline constexpr double kSmallLoss = 0.005;

struct SturdyPlan {
  Plan plan;
  Survival survival;
  int compared = 0;  ///< plans made
  /// What the cheapest of them that does as much costs, and its chance that every scene is filmed.
  Price cheapest;
  Likelihood cheapest_chance;
};

/// The plan most likely to film every scene, of several from seeds that follow each other: among
/// those that lose and leave unfilled no more than the best of them, the likeliest; among those
/// within kSmallLoss of it, the best by the usual price.
SturdyPlan plan_for_absences(const Production& production,
                             const Wishes& wishes,
                             Stop& stop,
                             const ProgressSink& progress = {});

}  // namespace gp::absence
