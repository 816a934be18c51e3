#include "support/break_ways.h"

namespace gp::test {
namespace {

bool has_cast(const PlannedScene& row) {
  return std::any_of(
      row.cast.begin(), row.cast.end(), [](const CastEntry& one) { return !one.people.empty(); });
}
bool has_crew(const PlannedScene& row) {
  return std::any_of(
      row.crew.begin(), row.crew.end(), [](const CrewEntry& one) { return !one.people.empty(); });
}

/// Somebody in front of the camera of a scene.
PersonId* somebody_cast(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes, has_cast);
  if (scene == nullptr) return nullptr;
  for (CastEntry& entry : scene->cast) {
    if (!entry.people.empty()) return &entry.people[it.random.index(entry.people.size())];
  }
  return nullptr;
}
/// Somebody behind it.
PersonId* somebody_of_crew(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes, has_crew);
  if (scene == nullptr) return nullptr;
  for (CrewEntry& entry : scene->crew) {
    if (!entry.people.empty()) return &entry.people[it.random.index(entry.people.size())];
  }
  return nullptr;
}

bool in_two_scenes(Breaking& it) {
  for (DayPlan& day : it.plan.days) {
    for (PlannedScene& one : day.scenes) {
      for (PlannedScene& other : day.scenes) {
        if (&one == &other || !has_cast(one) || !has_crew(other)) continue;
        const PersonId who =
            one.cast.front().people.empty() ? it.anybody() : one.cast.front().people.front();
        other.crew.front().people.assign(1, who);
        return true;
      }
    }
  }
  return false;
}
bool meal_in_the_middle(Breaking& it) {
  PlannedMeal* meal = it.row(&DayPlan::meals);
  if (meal == nullptr) return false;
  const Minutes by{it.random.between(-60, 60)};
  meal->from += by;
  meal->until += by;
  return true;
}
bool ready_in_the_middle(Breaking& it) {
  Ready* ready = it.row(&DayPlan::ready);
  if (ready == nullptr) return false;
  const Minutes by{it.random.between(-30, 60)};
  ready->from += by;
  ready->until += by;
  return true;
}
bool step_in_the_middle(Breaking& it) {
  PlannedStep* step = it.row(&DayPlan::steps);
  if (step == nullptr) return false;
  const Minutes by{it.random.between(-60, 60)};
  step->from += by;
  step->until += by;
  return true;
}

bool cast_with_another(Breaking& it) {
  PersonId* who = somebody_cast(it);
  if (who == nullptr) return false;
  *who = it.anybody();
  return true;
}
bool crewed_by_another(Breaking& it) {
  PersonId* who = somebody_of_crew(it);
  if (who == nullptr) return false;
  *who = it.anybody();
  return true;
}
bool head_missing(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes, has_cast);
  if (scene == nullptr) return false;
  for (CastEntry& entry : scene->cast) {
    if (entry.people.empty()) continue;
    entry.people.pop_back();
    return true;
  }
  return false;
}
bool helper_missing(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes, has_crew);
  if (scene == nullptr) return false;
  for (CrewEntry& entry : scene->crew) {
    if (entry.people.empty()) continue;
    entry.people.pop_back();
    return true;
  }
  return false;
}
bool head_too_many(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes, has_cast);
  if (scene == nullptr) return false;
  scene->cast.front().people.push_back(it.anybody());
  return true;
}
bool stands_twice(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes, has_cast);
  if (scene == nullptr) return false;
  for (CastEntry& entry : scene->cast) {
    if (entry.people.empty()) continue;
    scene->crew.push_back({"camera", {entry.people.front()}});
    return true;
  }
  return false;
}
bool job_nobody_asked_for(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes);
  if (scene == nullptr) return false;
  scene->crew.push_back({"juggling", {it.anybody()}});
  return true;
}
bool role_nobody_asked_for(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes);
  if (scene == nullptr || it.production.roles.empty()) return false;
  scene->cast.push_back({RoleId(it.random.index(it.production.roles.size())), {it.anybody()}});
  return true;
}
bool unfilled_not_told(Breaking& it) {
  if (it.plan.unfilled.empty()) return false;
  it.plan.unfilled.pop_back();
  return true;
}
bool unfilled_by_more(Breaking& it) {
  if (it.plan.unfilled.empty()) return false;
  ++it.plan.unfilled.front().missing;
  return true;
}
bool unfilled_without_reason(Breaking& it) {
  if (it.plan.unfilled.empty()) return false;
  it.plan.unfilled.back().why.clear();
  return true;
}
bool unfilled_and_full(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes, has_cast);
  if (scene == nullptr) return false;
  it.plan.unfilled.push_back({scene->scene, scene->cast.front().role, "", 1, "so it seems"});
  return true;
}
/// Two people of one scene change roles.
bool roles_changed(Breaking& it) {
  PlannedScene* scene =
      it.row(&DayPlan::scenes, [](const PlannedScene& row) { return row.cast.size() > 1; });
  if (scene == nullptr) return false;
  std::swap(scene->cast.front().people, scene->cast.back().people);
  return true;
}
/// Everything that one person does, another does.
bool all_by_another(Breaking& it) {
  const PersonId* chosen = somebody_cast(it);
  if (chosen == nullptr) return false;
  const PersonId from = *chosen;
  const PersonId to = it.anybody();
  const auto change = [&](PersonId& who) {
    if (who == from) who = to;
  };
  for (DayPlan& day : it.plan.days) {
    for (PlannedScene& scene : day.scenes) {
      for (CastEntry& entry : scene.cast)
        std::for_each(entry.people.begin(), entry.people.end(), change);
      for (CrewEntry& entry : scene.crew)
        std::for_each(entry.people.begin(), entry.people.end(), change);
    }
    for (Wear& row : day.wears) change(row.person);
    for (PlannedStep& row : day.steps) {
      change(row.person);
      change(row.by);
    }
    for (Ready& row : day.ready) change(row.person);
    for (PlannedMeal& row : day.meals) std::for_each(row.people.begin(), row.people.end(), change);
    for (Stay& row : day.people) change(row.person);
  }
  return true;
}

}  // namespace

const std::vector<Way>& ways_of_people() {
  static const std::vector<Way> ways = {
      {3, "in two scenes at once", in_two_scenes},
      {3, "a meal in the middle of something", meal_in_the_middle},
      {3, "getting ready in the middle of something", ready_in_the_middle},
      {3, "a step in the middle of something", step_in_the_middle},
      {9, "somebody else in a role", cast_with_another},
      {9, "somebody else behind the camera", crewed_by_another},
      {9, "a head missing", head_missing},
      {9, "a helper missing", helper_missing},
      {9, "a head too many", head_too_many},
      {9, "in front of and behind the camera", stands_twice},
      {9, "a job that nobody asked for", job_nobody_asked_for},
      {9, "a role that nobody asked for", role_nobody_asked_for},
      {9, "a missing head not told", unfilled_not_told},
      {9, "more missing than are", unfilled_by_more},
      {9, "missing without a reason", unfilled_without_reason},
      {9, "missing though there", unfilled_and_full},
      {9, "two people change roles", roles_changed},
      {9, "all that one does done by another", all_by_another}};
  return ways;
}

}  // namespace gp::test
