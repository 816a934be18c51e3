#pragma once

#include "explain/absence/steer.h"
#include "explain/absence/survival.h"
#include "search/planner.h"

namespace gp::absence {

/// So many plans are tried besides the ordinary one, each with kTrialEffort of the work asked for;
/// what they teach is planned once more with all of it.
inline constexpr int kMostTrials = 24;
inline constexpr double kTrialEffort = 0.05;
/// Chances this near are as good as each other.
inline constexpr double kSmallLoss = 0.005;
/// What a likelier plan may cost more than the ordinary one, as a share of its time on site (and,
/// under `latest_first_call`, of its time from the first call to the first shot). Our own choice.
inline constexpr double kMostMore = 0.25;

struct SturdyPlan {
  Plan plan;
  Survival survival;
  int compared = 0;  ///< plans made
  /// The ordinary plan, as make_plan() gives it, and its chance that every scene is filmed.
  Price ordinary;
  Likelihood ordinary_chance;
  /// What no plan can beat, for want of anybody else.
  double at_most = 1;
  Steer steer;  ///< what the plan was held to besides the file
};

/// A plan that films and fills all that the ordinary one does and costs at most `most_more` more,
/// steered so that it survives missing people: from the ordinary plan on, one step of
/// next_steps() after another is kept where the plan made under it is likelier to film every scene
/// (the first that is, until none is or kMostTrials are made). Of the plans within kSmallLoss of
/// the likeliest, the best by the usual price. Right for the production as it is. The reasons of
/// what is left out are those of the ordinary plan.
/// \param stop  when it says so, the best plan so far is given
/// Cost: about three ordinary plans. The same input and seed give the same plan where no `seconds`
/// are given.
SturdyPlan plan_for_absences(const Production& production,
                             const Wishes& wishes,
                             Stop& stop,
                             const ProgressSink& progress = {},
                             double most_more = kMostMore);

}  // namespace gp::absence
