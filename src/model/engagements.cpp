#include "model/engagements.h"

#include <algorithm>
#include <tuple>

namespace gp {

const Step* written_step(const Production& production, const PlannedStep& planned) {
  const Look& look = production.looks[planned.look];
  const auto& chain = planned.part == ChainPart::on ? look.steps : look.off;
  if (planned.step < 0 || static_cast<std::size_t>(planned.step) >= chain.size()) return nullptr;
  return &chain[static_cast<std::size_t>(planned.step)];
}

const Meal* written_meal(const Production& production, DayId day, const std::string& name) {
  const auto& meals = production.days[day].meals;
  const auto found =
      std::find_if(meals.begin(), meals.end(), [&](const Meal& meal) { return meal.name == name; });
  return found == meals.end() ? nullptr : &*found;
}

std::map<PersonId, std::vector<BusyRow>> engagements(const Production& production,
                                                     const DayPlan& plan) {
  std::map<PersonId, std::vector<BusyRow>> all;
  const auto engage = [&all](PersonId person, Span time, PlaceId place, std::string what) {
    all[person].push_back({time, place, std::move(what)});
  };
  for (const PlannedScene& scene : plan.scenes) {
    const PlaceId place = production.place_of(scene.scene, plan.day);
    const std::string& id = production.scenes[scene.scene].id;
    for (const CastEntry& entry : scene.cast) {
      for (const PersonId who : entry.people) {
        engage(who, {scene.shoot_at, scene.until}, place, "scene " + id);
      }
    }
    for (const CrewEntry& entry : scene.crew) {
      for (const PersonId who : entry.people) {
        engage(who, {scene.set_at, scene.until}, place, "crew of " + id);
      }
    }
  }
  for (const PlannedStep& step : plan.steps) {
    if (written_step(production, step) == nullptr) continue;
    const PlaceId place = production.place_of(step.station, plan.day);
    const Span time{step.from, step.until};
    const std::string what = production.looks[step.look].id +
                             (step.part == ChainPart::on ? " on " : " off ") +
                             std::to_string(step.step);
    engage(step.person, time, place, what);
    if (step.by.valid()) {
      engage(step.by, time, place, production.people[step.person].id + "'s " + what);
    }
  }
  for (const Ready& ready : plan.ready) {
    engage(ready.person,
           {ready.from, ready.until},
           production.place_of(ready.station, plan.day),
           "getting " + production.stations[ready.station].id + " ready");
  }
  for (const PlannedMeal& meal : plan.meals) {
    if (written_meal(production, plan.day, meal.meal) == nullptr) continue;
    for (const PersonId who : meal.people) {
      engage(who, {meal.from, meal.until}, PlaceId(), "meal " + meal.meal);
    }
  }
  for (auto& [who, rows] : all) {
    std::stable_sort(rows.begin(), rows.end(), [](const BusyRow& a, const BusyRow& b) {
      return std::tie(a.time.from, a.time.until) < std::tie(b.time.from, b.time.until);
    });
  }
  return all;
}

}  // namespace gp
