#include "model/price.h"

#include "model/engagements.h"

#include <algorithm>
#include <cstdint>
#include <optional>
#include <set>
#include <tuple>

namespace gp {
namespace {

/// Minutes of a day; a day on which nobody is called counts as one whose first call is at its end.
constexpr std::int64_t kWholeDay = std::int64_t{24} * 60;

void add_day(const Production& production, const DayPlan& plan, Price& price) {
  const auto engaged = engagements(production, plan);
  std::map<PersonId, const Stay*> stays;  // the last that is listed, as the checker counts
  for (const Stay& stay : plan.people) stays[stay.person] = &stay;
  std::optional<Minute> first_call;
  for (const auto& [who, rows] : engaged) {
    const auto found = stays.find(who);
    if (found == stays.end()) continue;
    const Stay& stay = *found->second;
    std::int64_t busy = 0;  // 64 bits: a file may say the same meal a million times
    for (const BusyRow& row : rows) busy += row.time.length().count();
    const std::int64_t on_site = (stay.released - stay.call).count();
    price.on_site += on_site;
    price.weighted_on_site += on_site * production.people[who].weight;
    price.waiting += on_site - busy;
    first_call = first_call ? std::min(*first_call, stay.call) : stay.call;
  }
  if (plan.scenes.empty()) return;
  Minute first_shot = kNever;
  Minute wrap = kAlwaysBefore;
  for (const PlannedScene& scene : plan.scenes) {
    first_shot = std::min(first_shot, scene.shoot_at);
    wrap = std::max(wrap, scene.until);
  }
  const Minute called = first_call.value_or(first_shot);
  ++price.filmed_days;
  price.first_calls += count(called);
  price.span += (first_shot - called).count();
  price.wrap += count(wrap);
}

}  // namespace

Price price(const Production& production, const Plan& plan) {
  Price total;
  std::set<SceneId> filmed;
  for (const DayPlan& day : plan.days) {
    add_day(production, day, total);
    for (const PlannedScene& scene : day.scenes) filmed.insert(scene.scene);
  }
  for (const SceneId scene : production.scenes.ids()) {
    if (filmed.contains(scene)) continue;
    const Scene& lost = production.scenes[scene];
    (lost.optional ? total.optional_not_filmed : total.not_filmed) += lost.worth;
  }
  for (const Unfilled& entry : plan.unfilled) total.unfilled += entry.missing;
  return total;
}

bool better(const Price& a, const Price& b, Aim aim) {
  const auto key = [aim](const Price& price) {
    // How early people come, over the filmed days: so that a day not needed is never an advantage.
    const std::int64_t early =
        aim == Aim::latest_first_call ? price.filmed_days * kWholeDay - price.first_calls : 0;
    return std::make_tuple(price.not_filmed,
                           price.optional_not_filmed,
                           price.unfilled,
                           early,
                           price.weighted_on_site,
                           price.wrap);
  };
  return key(a) < key(b);
}

}  // namespace gp
