#include "support/moved_plan.h"

#include "support/builder.h"

#include <algorithm>
#include <set>
#include <utility>

namespace gp::test {
namespace {

bool in_it(const Production& film, const PlannedScene& scene, const Wear& wear) {
  for (const CastEntry& entry : scene.cast) {
    const Role& role = film.roles[entry.role];
    if (role.look_kind != LookKind::look || role.look != wear.look) continue;
    if (std::find(entry.people.begin(), entry.people.end(), wear.person) != entry.people.end()) {
      return true;
    }
  }
  return false;
}

/// From the first step or scene of each stretch in a look to its last, as after a change; which
/// steps and scenes are of a stretch is asked of the plan before it.
void mend_wears(const Production& film, const DayPlan& before, DayPlan& after) {
  for (std::size_t w = 0; w < before.wears.size(); ++w) {
    const Wear& old = before.wears[w];
    Wear& wear = after.wears[w];
    const Span span{old.from, old.until};
    std::optional<Minute> from, until, first_shot, last_shot;
    for (std::size_t i = 0; i < before.steps.size(); ++i) {
      const PlannedStep& step = before.steps[i];
      if (step.person != old.person || step.look != old.look ||
          !span.covers({step.from, step.until})) {
        continue;
      }
      const PlannedStep& moved = after.steps[i];
      if (step.part == ChainPart::on) from = from ? std::min(*from, moved.from) : moved.from;
      if (step.part == ChainPart::off) until = until ? std::max(*until, moved.until) : moved.until;
    }
    for (std::size_t i = 0; i < before.scenes.size(); ++i) {
      const PlannedScene& scene = before.scenes[i];
      if (!span.covers({scene.shoot_at, scene.until}) || !in_it(film, scene, old)) continue;
      const PlannedScene& moved = after.scenes[i];
      first_shot = first_shot ? std::min(*first_shot, moved.shoot_at) : moved.shoot_at;
      last_shot = last_shot ? std::max(*last_shot, moved.until) : moved.until;
    }
    if (!from) from = first_shot;
    if (!until) until = last_shot;
    if (from) wear.from = *from;
    if (until) wear.until = *until;
  }
}

Plan mended(const Production& film, const Plan& before, Plan after, std::size_t day) {
  mend_wears(film, before.days[day], after.days[day]);
  recount_stays(film, after);
  return after;
}

}  // namespace

Plan with_step_moved(const Production& film,
                     Plan plan,
                     std::size_t day,
                     std::size_t index,
                     Minute from,
                     int place,
                     PersonId by) {
  const Plan before = plan;
  DayPlan& there = plan.days[day];
  PlannedStep& step = there.steps[index];
  step.until = from + (step.until - step.from);
  step.from = from;
  step.place = place;
  step.by = by;
  std::set<std::pair<PersonId, StationId>> staffed;
  for (const PlannedStep& other : there.steps) staffed.insert({other.by, other.station});
  std::vector<Ready> kept;
  for (const Ready& ready : there.ready) {
    if (staffed.contains({ready.person, ready.station})) kept.push_back(ready);
  }
  there.ready = std::move(kept);
  return mended(film, before, std::move(plan), day);
}

Plan with_scene_moved(
    const Production& film, Plan plan, std::size_t day, std::size_t index, Minutes by) {
  const Plan before = plan;
  PlannedScene& scene = plan.days[day].scenes[index];
  scene.set_at += by;
  scene.shoot_at += by;
  scene.until += by;
  return mended(film, before, std::move(plan), day);
}

Plan with_ready_moved(
    const Production& film, Plan plan, std::size_t day, std::size_t index, Minute from) {
  Ready& ready = plan.days[day].ready[index];
  ready.until = from + (ready.until - ready.from);
  ready.from = from;
  recount_stays(film, plan);
  return plan;
}

Plan with_meal_moved(
    const Production& film, Plan plan, std::size_t day, std::size_t index, Minute from) {
  DayPlan& there = plan.days[day];
  const std::string name = there.meals[index].meal;
  bool together = false;
  for (const Meal& meal : film.days[there.day].meals) {
    if (meal.name == name) together = meal.together;
  }
  for (std::size_t i = 0; i < there.meals.size(); ++i) {
    PlannedMeal& meal = there.meals[i];
    if (i != index && !(together && meal.meal == name)) continue;
    meal.until = from + (meal.until - meal.from);
    meal.from = from;
  }
  recount_stays(film, plan);
  return plan;
}

std::optional<Minute> call_in(const DayPlan& day, PersonId person) {
  for (const Stay& stay : day.people) {
    if (stay.person == person) return stay.call;
  }
  return std::nullopt;
}

bool right_all_else(const Production& film,
                    const Plan& before,
                    const Plan& after,
                    std::size_t day,
                    Answers answers) {
  for (const Stay& stay : after.days[day].people) {
    for (const Stay& old : before.days[day].people) {
      if (old.person != stay.person) continue;
      if (stay.call < old.call || stay.released > old.released) return false;
    }
    if (!call_in(before.days[day], stay.person)) return false;
  }
  return check(film, after, answers).empty();
}

}  // namespace gp::test
