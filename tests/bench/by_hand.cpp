#include "bench/by_hand.h"

#include "base/stop.h"
#include "model/check.h"
#include "model/day_frame.h"
#include "search/planner.h"

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <set>
#include <stdexcept>
#include <utility>

namespace gp::bench {
namespace {

/// No search at all, then some, then the whole fixed amount.
constexpr std::array<double, 3> kEfforts = {1e-9, 0.1, 1.0};

Plan plan_with(const Production& production, double effort) {
  Wishes wishes;
  wishes.effort = effort;
  Stop stop;
  return make_plan(production, wishes, stop);
}

/// What a plan leaves out: scenes, then heads.
std::pair<std::size_t, int> left_out(const Plan& plan) {
  int heads = 0;
  for (const Unfilled& one : plan.unfilled) heads += one.missing;
  return {plan.not_filmed.size(), heads};
}

/// With no more effort than it takes to leave nothing more out than `least`.
Plan plan_until(const Production& production, std::pair<std::size_t, int> least) {
  std::optional<Plan> best;
  for (const double effort : kEfforts) {
    Plan plan = plan_with(production, effort);
    if (!best || left_out(plan) < left_out(*best)) best = std::move(plan);
    if (left_out(*best) <= least) break;
  }
  return *best;
}

/// The look in which each person begins the day: the one that is first on.
std::map<PersonId, LookId> first_looks(const DayPlan& day) {
  std::map<PersonId, const Wear*> first;
  for (const Wear& wear : day.wears) {
    const Wear*& earliest = first[wear.person];
    if (earliest == nullptr || wear.from < earliest->from) earliest = &wear;
  }
  std::map<PersonId, LookId> looks;
  for (const auto& [person, wear] : first) looks[person] = wear->look;
  return looks;
}

/// The beginning of the time in which a person is free around their stay.
Minute free_from(const DayFrame& frame, const Stay& stay) {
  for (const Span& free : frame.free[stay.person]) {
    if (free.covers({stay.call, stay.released})) return free.from;
  }
  return stay.call;
}

}  // namespace

Production in_listed_order(const Production& production, const std::vector<SceneId>& out_of_turn) {
  Production listed = production;
  const std::set<SceneId> free(out_of_turn.begin(), out_of_turn.end());
  // a day that the file fixes is a list of its own
  std::map<std::pair<UnitId, DayId>, SceneId> last_of_day;
  for (const SceneId id : production.scenes.ids()) {
    if (free.contains(id)) continue;
    Scene& scene = listed.scenes[id];
    auto& before = last_of_day[{scene.unit, scene.day}];
    if (before.valid() &&
        std::find(scene.after.begin(), scene.after.end(), before) == scene.after.end()) {
      scene.after.push_back(before);
    }
    before = id;
  }
  return listed;
}

Thousandths with_common_calls(const Production& production,
                              const Plan& plan,
                              std::int64_t& on_site) {
  Thousandths sum = 0;
  on_site = 0;
  for (const DayPlan& day : plan.days) {
    const DayFrame frame(production, day.day, {});
    const auto looks = first_looks(day);
    std::map<LookId, Minute> common;
    for (const Stay& stay : day.people) {
      const auto look = looks.find(stay.person);
      if (look == looks.end()) continue;
      const auto call = common.emplace(look->second, stay.call).first;
      call->second = std::min(call->second, stay.call);
    }
    for (const Stay& stay : day.people) {
      const auto look = looks.find(stay.person);
      const Minute call = look == looks.end()
                              ? stay.call
                              : std::max(common.at(look->second), free_from(frame, stay));
      const auto minutes = (stay.released - call).count();
      on_site += minutes;
      sum += minutes * production.people[stay.person].weight;
    }
  }
  return sum;
}

ByHand by_hand(const Production& production) {
  // what nobody can have: the scenes that are lost in any order
  const Plan free = plan_until(production, {0, 0});
  std::set<SceneId> lost_anyway;
  for (const NotFilmed& lost : free.not_filmed) lost_anyway.insert(lost.scene);
  ByHand result;
  for (;;) {
    result.plan = plan_until(in_listed_order(production, result.out_of_turn), left_out(free));
    SceneId lost;
    for (const NotFilmed& one : result.plan.not_filmed) {
      const bool tried =
          std::find(result.out_of_turn.begin(), result.out_of_turn.end(), one.scene) !=
          result.out_of_turn.end();
      // the first on the list is the cause, those after it may be its consequence
      if (!tried && !lost_anyway.contains(one.scene) && (!lost.valid() || one.scene < lost))
        lost = one.scene;
    }
    if (!lost.valid()) break;
    result.out_of_turn.push_back(lost);
  }
  const auto broken = check(production, result.plan);
  if (!broken.empty()) {
    throw std::runtime_error("the plan made by hand breaks rule " + std::to_string(broken[0].rule) +
                             ": " + broken[0].where + ": " + broken[0].what);
  }
  result.weighted_on_site = with_common_calls(production, result.plan, result.on_site);
  return result;
}

}  // namespace gp::bench
