#include "explain/whatif/what_if.h"

#include "model/check.h"

#include <algorithm>

namespace gp::whatif {

Comparison compare(const Production& production,
                   const Changed& changed,
                   const Wishes& wishes,
                   Stop& stop,
                   const ProgressSink& progress) {
  Comparison result;
  Stop first = stop;
  result.before = make_plan(production, wishes, first, progress);
  result.after = plan_again(result.before, changed, wishes, stop, progress);
  result.difference = difference(production, result.before, changed.production, result.after.plan);
  const bool same_scenes = changed.production.scenes.size() == production.scenes.size();
  if (same_scenes && !result.after.carried &&
      check(production, result.after.plan, wishes.answers).empty()) {
    const Price without = price(production, result.after.plan);
    if (better(without, result.difference.price.before, production.aim)) {
      result.without_change = without;
    }
  }
  return result;
}

}  // namespace gp::whatif
