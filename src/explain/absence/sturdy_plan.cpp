#include "explain/absence/sturdy_plan.h"

#include <algorithm>
#include <chrono>
#include <utility>
#include <vector>

namespace gp::absence {
namespace {

struct Candidate {
  Plan plan;
  Price price;
  Survival survival;
};

bool does_as_much(const Price& a, const Price& b) {
  return a.not_filmed == b.not_filmed && a.optional_not_filmed == b.optional_not_filmed &&
         a.unfilled == b.unfilled;
}

}  // namespace

SturdyPlan plan_for_absences(const Production& production,
                             const Wishes& wishes,
                             Stop& stop,
                             const ProgressSink& progress) {
  std::vector<Candidate> candidates;
  for (int i = 0; i < kPlansCompared && (i == 0 || !stop.now_exactly()); ++i) {
    Wishes one = wishes;
    one.seed = wishes.seed + static_cast<std::uint64_t>(i);
    one.effort = wishes.effort / kPlansCompared;
    Stop own = stop;
    if (wishes.seconds) {
      one.seconds = *wishes.seconds / kPlansCompared;
      own.limit(Stop::Clock::now() + std::chrono::duration_cast<Stop::Clock::duration>(
                                         std::chrono::duration<double>(*one.seconds)));
    }
    Candidate made;
    made.plan = make_plan(production, one, own, progress);
    made.price = price(production, made.plan);
    made.survival = survival_of(production, made.plan, wishes.answers);
    candidates.push_back(std::move(made));
  }
  const auto cheaper = [&](const Candidate& a, const Candidate& b) {
    return better(a.price, b.price, production.aim);
  };
  const Candidate& cheapest = *std::min_element(candidates.begin(), candidates.end(), cheaper);
  double best = 0;
  for (const Candidate& one : candidates) {
    if (does_as_much(one.price, cheapest.price)) {
      best = std::max(best, one.survival.all_filmed.chance);
    }
  }
  const Candidate* chosen = nullptr;
  for (const Candidate& one : candidates) {
    if (!does_as_much(one.price, cheapest.price) ||
        one.survival.all_filmed.chance < best - kSmallLoss) {
      continue;
    }
    if (chosen == nullptr || cheaper(one, *chosen)) chosen = &one;
  }
  return {chosen->plan,
          chosen->survival,
          static_cast<int>(candidates.size()),
          cheapest.price,
          cheapest.survival.all_filmed};
}

}  // namespace gp::absence
