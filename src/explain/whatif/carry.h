#pragma once

#include "explain/whatif/apply.h"
#include "model/check.h"
#include "model/plan.h"
#include "model/price.h"
#include "model/production.h"
#include "search/planner.h"

#include <optional>

// More help never hurts: what was right before stays right when help is added, so a plan made after
// a change is never worse than the plan there was.

namespace gp::whatif {

/// A plan of the production before as one of the production after, its calls and sums counted anew;
/// none: it breaks a rule there. Scenes that were dropped are taken out, with the looks that only
/// they wanted; steps and shots that take a different time end (when a look goes on) or begin (when
/// it comes off, and shots) as they did.
/// Cost: that of check(). Threads: pure.
std::optional<Plan> carried_over(const Plan& plan, const Changed& after, Answers answers);

/// A plan with its price.
struct Priced {
  Plan plan;
  Price price;
  bool carried = false;  ///< the plan there was, carried over; the search found no better one
};

/// The better of what make_plan() finds for the production after and of the plan there was; of
/// equals the plan there was, so that nobody is called at another time for nothing.
/// \param stop  as make_plan()'s; when it says so, the best so far is given
Priced plan_again(const Plan& plan,
                  const Changed& after,
                  const Wishes& wishes,
                  Stop& stop,
                  const ProgressSink& progress = {});

/// Of two plans of one production the better, of equals `there_was`; where that is taken, the bound
/// and the reasons that the search found are kept as far as they are true of it.
Priced better_of(const Production& production, Plan found, std::optional<Plan> there_was);

}  // namespace gp::whatif
