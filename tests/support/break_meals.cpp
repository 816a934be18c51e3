#include "support/break_ways.h"

namespace gp::test {
namespace {

template <class Do>
bool to_a_meal(Breaking& it, Do change) {
  PlannedMeal* meal = it.row(&DayPlan::meals);
  if (meal == nullptr) return false;
  change(*meal);
  return true;
}
template <class Do>
bool to_a_stay(Breaking& it, Do change) {
  Stay* stay = it.row(&DayPlan::people);
  if (stay == nullptr) return false;
  change(*stay);
  return true;
}

bool one_misses_it(Breaking& it) {
  PlannedMeal* meal =
      it.row(&DayPlan::meals, [](const PlannedMeal& row) { return !row.people.empty(); });
  if (meal == nullptr) return false;
  meal->people.erase(meal->people.begin() +
                     static_cast<std::ptrdiff_t>(it.random.index(meal->people.size())));
  return true;
}
bool meal_left_out(Breaking& it) {
  PlannedMeal* meal = it.row(&DayPlan::meals);
  if (meal == nullptr) return false;
  drop(it, &DayPlan::meals, meal);
  return true;
}
bool meal_shorter(Breaking& it) {
  return to_a_meal(it, [](PlannedMeal& meal) { meal.until -= Minutes{1}; });
}
bool meal_hours_later(Breaking& it) {
  return to_a_meal(it, [&](PlannedMeal& meal) {
    const Minutes by{it.random.between(60, 300)};
    meal.from += by;
    meal.until += by;
  });
}
bool all_eat_at_once(Breaking& it) {
  for (DayPlan& day : it.plan.days) {
    if (day.meals.size() < 2) continue;
    for (PlannedMeal& meal : day.meals) {
      meal.from = day.meals.front().from;
      meal.until = day.meals.front().until;
    }
    return true;
  }
  return false;
}
bool one_more_eats(Breaking& it) {
  return to_a_meal(it, [&](PlannedMeal& meal) { meal.people.push_back(it.anybody()); });
}
bool eats_apart(Breaking& it) {
  for (DayPlan& day : it.plan.days) {
    for (std::size_t i = 0; i < day.meals.size(); ++i) {
      if (day.meals[i].people.empty()) continue;
      PlannedMeal apart = day.meals[i];
      const Minutes by{it.random.between(1, 20)};
      apart.from += by;
      apart.until += by;
      apart.people = {day.meals[i].people.back()};
      day.meals[i].people.pop_back();
      day.meals.push_back(std::move(apart));
      return true;
    }
  }
  return false;
}

/// A call moved, the sums of its stay and of the plan with it.
bool call_moved(Breaking& it, int minutes) {
  return to_a_stay(it, [&](Stay& stay) {
    stay.call += Minutes{minutes};
    stay.on_site -= Minutes{minutes};
    stay.waiting -= Minutes{minutes};
    it.plan.totals.on_site -= minutes;
    it.plan.totals.weighted_on_site -= minutes * it.production.people[stay.person].weight;
    it.plan.totals.waiting -= minutes;
  });
}
bool call_later(Breaking& it) {
  return call_moved(it, it.production.round_to.count());
}
bool call_earlier(Breaking& it) {
  return call_moved(it, -it.production.round_to.count());
}
bool call_an_hour_earlier(Breaking& it) {
  return call_moved(it, -60);
}
bool call_off_the_grid(Breaking& it) {
  return call_moved(it, it.random.chance(1, 2) ? 1 : -1);
}

bool released_later(Breaking& it) {
  return to_a_stay(it, [](Stay& stay) { stay.released += Minutes{1}; });
}
bool on_site_wrong(Breaking& it) {
  return to_a_stay(it, [](Stay& stay) { stay.on_site += Minutes{1}; });
}
bool busy_wrong(Breaking& it) {
  return to_a_stay(it, [](Stay& stay) { stay.busy -= Minutes{1}; });
}
bool waiting_wrong(Breaking& it) {
  return to_a_stay(it, [](Stay& stay) { stay.waiting += Minutes{1}; });
}
bool no_call(Breaking& it) {
  Stay* stay = it.row(&DayPlan::people);
  if (stay == nullptr) return false;
  drop(it, &DayPlan::people, stay);
  return true;
}
bool called_for_nothing(Breaking& it) {
  for (DayPlan& day : it.plan.days) {
    if (day.people.empty()) continue;
    for (const PersonId who : it.production.people.ids()) {
      const bool here = std::any_of(day.people.begin(), day.people.end(), [&](const Stay& stay) {
        return stay.person == who;
      });
      if (here) continue;
      Stay stay = day.people.front();
      stay.person = who;
      day.people.push_back(stay);
      return true;
    }
  }
  return false;
}
bool total_wrong(Breaking& it) {
  switch (it.random.below(3)) {
    case 0:
      ++it.plan.totals.on_site;
      break;
    case 1:
      it.plan.totals.weighted_on_site -= 500;
      break;
    default:
      --it.plan.totals.waiting;
      break;
  }
  return true;
}
bool bound_too_high(Breaking& it) {
  it.plan.totals.bound = Thousandths{100'000'000};
  return true;
}
bool first_shot_wrong(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr || !day->first_shot) return false;
  *day->first_shot += Minutes{1};
  return true;
}
bool wrap_wrong(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr || !day->wrap) return false;
  *day->wrap -= Minutes{1};
  return true;
}

}  // namespace

const std::vector<Way>& ways_of_meals() {
  static const std::vector<Way> ways = {{10, "one misses the meal", one_misses_it},
                                        {10, "a meal left out", meal_left_out},
                                        {10, "a shorter meal", meal_shorter},
                                        {10, "a meal hours later", meal_hours_later},
                                        {10, "all eat at once", all_eat_at_once},
                                        {10, "one more eats", one_more_eats},
                                        {10, "one eats apart", eats_apart},
                                        {11, "a call later", call_later},
                                        {11, "a call earlier", call_earlier},
                                        {11, "a call an hour earlier", call_an_hour_earlier},
                                        {11, "a call off the grid", call_off_the_grid},
                                        {11, "released later", released_later},
                                        {11, "a wrong on_site", on_site_wrong},
                                        {11, "a wrong busy", busy_wrong},
                                        {11, "a wrong waiting", waiting_wrong},
                                        {11, "no call", no_call},
                                        {11, "called for nothing", called_for_nothing},
                                        {11, "a wrong total", total_wrong},
                                        {11, "a bound too high", bound_too_high},
                                        {11, "a wrong first shot", first_shot_wrong},
                                        {11, "a wrong wrap", wrap_wrong}};
  return ways;
}

}  // namespace gp::test
