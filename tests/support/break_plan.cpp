#include "support/break_plan.h"

#include "support/break_ways.h"
#include "support/builder.h"
#include "time/clock.h"
#include "time/day_clock.h"

#include <initializer_list>

namespace gp::test {
namespace {

/// Whether every moment of the day can stand in a file.
bool writable(const Production& production, const DayPlan& day) {
  const CalendarDay calendar(production.days[day.day].date, production.zone);
  bool all = true;
  const auto look = [&](std::initializer_list<Minute> moments) {
    for (const Minute moment : moments) {
      const auto reading = calendar.wall(moment);
      all = all && reading && *reading >= WallTime{0} && *reading <= kLatestWallTime;
    }
  };
  if (day.first_shot) look({*day.first_shot});
  if (day.wrap) look({*day.wrap});
  for (const PlannedScene& row : day.scenes) look({row.set_at, row.shoot_at, row.until});
  for (const Wear& row : day.wears) look({row.from, row.until});
  for (const PlannedStep& row : day.steps) look({row.from, row.until});
  for (const Ready& row : day.ready) look({row.from, row.until});
  for (const PlannedMeal& row : day.meals) look({row.from, row.until});
  for (const Stay& row : day.people) look({row.call, row.released});
  return all;
}

bool writable(const Production& production, const Plan& plan) {
  return std::all_of(plan.days.begin(), plan.days.end(), [&](const DayPlan& day) {
    return writable(production, day);
  });
}

}  // namespace

DayPlan* Breaking::filmed_day() {
  std::vector<DayPlan*> filmed;
  for (DayPlan& day : plan.days) {
    if (!day.scenes.empty()) filmed.push_back(&day);
  }
  return filmed.empty() ? nullptr : filmed[random.index(filmed.size())];
}

std::vector<BrokenPlan> break_plan(const Production& production,
                                   const Plan& right,
                                   Random& random) {
  std::vector<BrokenPlan> broken;
  for (const auto* ways : {&ways_of_scenes(),
                           &ways_of_people(),
                           &ways_of_looks(),
                           &ways_of_meals(),
                           &ways_of_any_kind()}) {
    for (const Way& way : *ways) {
      Breaking it{production, right, random};
      if (!way.apply(it)) continue;
      if (way.rule != 11 && random.chance(1, 2)) recount_stays(production, it.plan);
      if (!writable(production, it.plan)) continue;
      broken.push_back({way.rule, way.name, std::move(it.plan)});
    }
  }
  return broken;
}

}  // namespace gp::test
