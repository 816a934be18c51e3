#include "search/filled_slots.h"

#include <algorithm>
#include <map>
#include <string>

namespace gp {
namespace {

int missing(const Plan& plan, SceneId scene, RoleId role, const std::string& job) {
  int sum = 0;
  for (const Unfilled& row : plan.unfilled) {
    if (row.scene == scene && row.role == role && row.job == job) sum += row.missing;
  }
  return sum;
}

}  // namespace

std::vector<SceneId> filmed_scenes(const Plan& plan) {
  std::vector<SceneId> filmed;
  for (const DayPlan& day : plan.days) {
    for (const PlannedScene& scene : day.scenes) filmed.push_back(scene.scene);
  }
  std::sort(filmed.begin(), filmed.end());
  return filmed;
}

std::vector<FilledSlot> filled_slots(const Problem& problem, const Plan& plan, SceneId scene) {
  std::vector<FilledSlot> result;
  const auto crew = problem.production.crew_of(scene);
  std::map<std::string, int> missing_jobs;
  std::map<RoleId, int> missing_roles;
  for (const Slot& slot : problem.slots.of(scene)) {
    // A role or job asked for twice is short as a whole: take it from each in turn.
    int* left = nullptr;
    if (slot.kind == Slot::Kind::crew) {
      const std::string& job = crew[slot.call].job;
      left = &missing_jobs.try_emplace(job, missing(plan, scene, RoleId(), job)).first->second;
    } else {
      left =
          &missing_roles.try_emplace(slot.role, missing(plan, scene, slot.role, {})).first->second;
    }
    const int without = std::min(*left, slot.people);
    *left -= without;
    result.push_back({scene, &slot, slot.people - without});
  }
  return result;
}

}  // namespace gp
