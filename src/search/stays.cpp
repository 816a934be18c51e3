#include "search/stays.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace gp {

Ground ground_of(const Production& production, const DayFrame& frame, const DayPlan& plan) {
  Ground ground(production, frame);
  for (std::size_t m = 0; m < frame.meals.size(); ++m) {
    if (!frame.meals[m].together) continue;
    for (const PlannedMeal& meal : plan.meals) {
      if (meal.meal == frame.meals[m].name) ground.together[m] = Span{meal.from, meal.until};
    }
  }
  return ground;
}

void put_in_order(DayPlan& plan) {
  const auto order = [](auto& rows, auto moment) {
    std::stable_sort(rows.begin(), rows.end(), [&](const auto& a, const auto& b) {
      return std::tie(a.*moment, a.person) < std::tie(b.*moment, b.person);
    });
  };
  order(plan.wears, &Wear::from);
  order(plan.steps, &PlannedStep::from);
  order(plan.ready, &Ready::from);
  order(plan.people, &Stay::call);
}

bool add_stay(
    DayPlan& plan, const Ground& ground, PersonId who, const PersonDay& day, MealRows& meals) {
  if (day.engagements.empty()) return false;
  const auto times = stay_of(ground, day);
  if (!times) return false;
  Minutes busy{0};
  for (const Engagement& row : day.engagements) busy += row.when.length();
  const auto eat = [&](std::size_t meal, Span when) {
    busy += when.length();
    PlannedMeal& entry = meals[{meal, when.from}];
    entry.meal = ground.frame->meals[meal].name;
    entry.from = when.from;
    entry.until = when.until;
    entry.people.push_back(who);
  };
  for (std::size_t meal : times->together) eat(meal, *ground.together[meal]);
  for (const MealSlot& slot : day.meals) eat(slot.meal, slot.when);
  const Minutes on_site = times->stay.length();
  plan.people.push_back({who, times->stay.from, times->stay.until, on_site, busy, on_site - busy});
  return true;
}

std::map<PersonId, PersonDay> days_of_people(const Ground& ground, const DayPlan& plan) {
  const DayFrame& frame = *ground.frame;
  std::map<PersonId, PersonDay> people;
  const auto add = [&](PersonId who, Minute from, Minute until, PlaceId place, Doing doing) {
    people[who].engagements.push_back({{from, until}, place, doing, 0});
  };
  for (const PlannedScene& scene : plan.scenes) {
    const PlaceId place = frame.scene_place[scene.scene];
    for (const CastEntry& entry : scene.cast) {
      for (const PersonId who : entry.people) {
        add(who, scene.shoot_at, scene.until, place, Doing::cast);
      }
    }
    for (const CrewEntry& entry : scene.crew) {
      for (const PersonId who : entry.people) {
        add(who, scene.set_at, scene.until, place, Doing::crew);
      }
    }
  }
  for (const PlannedStep& step : plan.steps) {
    const PlaceId place = frame.station_place[step.station];
    add(step.person, step.from, step.until, place, Doing::step);
    if (step.by.valid()) add(step.by, step.from, step.until, place, Doing::staffing);
  }
  for (const Ready& row : plan.ready) {
    add(row.person, row.from, row.until, frame.station_place[row.station], Doing::ready);
  }
  for (const PlannedMeal& row : plan.meals) {
    for (std::size_t meal = 0; meal < frame.meals.size(); ++meal) {
      if (frame.meals[meal].together || frame.meals[meal].name != row.meal) continue;
      for (const PersonId who : row.people) {
        people[who].meals.push_back({meal, {row.from, row.until}});
      }
      break;
    }
  }
  for (auto& [who, day] : people) {
    std::sort(day.engagements.begin(), day.engagements.end(), [](const auto& a, const auto& b) {
      return std::tie(a.when.from, a.when.until) < std::tie(b.when.from, b.when.until);
    });
    std::sort(day.meals.begin(), day.meals.end(), [](const MealSlot& a, const MealSlot& b) {
      return a.when.from < b.when.from;
    });
  }
  return people;
}

bool renew_stays(const Ground& ground, DayPlan& plan) {
  const std::map<PersonId, PersonDay> people = days_of_people(ground, plan);
  plan.people.clear();
  MealRows meals;
  for (const auto& [who, day] : people) {
    if (!add_stay(plan, ground, who, day, meals)) return false;
  }
  plan.meals.clear();
  for (auto& [key, meal] : meals) plan.meals.push_back(std::move(meal));
  put_in_order(plan);
  return true;
}

void renew_totals(const Production& production, Plan& plan) {
  plan.totals.on_site = plan.totals.weighted_on_site = plan.totals.waiting = 0;
  for (const DayPlan& day : plan.days) {
    for (const Stay& stay : day.people) {
      plan.totals.on_site += count(stay.on_site);
      plan.totals.weighted_on_site += count(stay.on_site) * production.people[stay.person].weight;
      plan.totals.waiting += count(stay.waiting);
    }
  }
}

}  // namespace gp
