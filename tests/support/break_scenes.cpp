#include "model/engagements.h"
#include "support/break_ways.h"

namespace gp::test {
namespace {

void move(PlannedScene& scene, Minutes by) {
  scene.set_at += by;
  scene.shoot_at += by;
  scene.until += by;
}

/// Everything of a day, calls and all, moved: nothing within it changes, only what the clock and
/// the sun say to it.
void move(DayPlan& day, Minutes by) {
  for (PlannedScene& row : day.scenes) move(row, by);
  const auto move_span = [by](auto& row) {
    row.from += by;
    row.until += by;
  };
  for (Wear& row : day.wears) move_span(row);
  for (PlannedStep& row : day.steps) move_span(row);
  for (Ready& row : day.ready) move_span(row);
  for (PlannedMeal& row : day.meals) move_span(row);
  for (Stay& row : day.people) {
    row.call += by;
    row.released += by;
  }
  if (day.first_shot) *day.first_shot += by;
  if (day.wrap) *day.wrap += by;
}

bool shorter_shot(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes);
  if (scene == nullptr) return false;
  scene->until -= Minutes{1};
  return true;
}

bool longer_set_up(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes);
  if (scene == nullptr) return false;
  scene->set_at -= Minutes{it.random.between(1, 10)};
  return true;
}

bool shorter_set_up(Breaking& it) {
  PlannedScene* scene =
      it.row(&DayPlan::scenes, [](const PlannedScene& row) { return row.set_at < row.shoot_at; });
  if (scene == nullptr) return false;
  scene->set_at += Minutes{1};
  return true;
}

bool scene_forgotten(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes);
  if (scene == nullptr) return false;
  drop(it, &DayPlan::scenes, scene);
  return true;
}

bool scene_given_up_and_filmed(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes);
  if (scene == nullptr) return false;
  it.plan.not_filmed.push_back({scene->scene, "rain"});
  return true;
}

bool lost_scene_not_told(Breaking& it) {
  if (it.plan.not_filmed.empty()) return false;
  it.plan.not_filmed.pop_back();
  return true;
}

bool lost_without_reason(Breaking& it) {
  if (it.plan.not_filmed.empty()) return false;
  it.plan.not_filmed.front().why.clear();
  return true;
}

bool filmed_twice(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr) return false;
  PlannedScene again = day->scenes.front();
  move(again, Minutes{it.random.between(0, 180)});
  day->scenes.push_back(std::move(again));
  return true;
}

bool filmed_on_another_day_too(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr || it.plan.days.size() < 2) return false;
  DayPlan& other = it.plan.days[it.random.index(it.plan.days.size())];
  other.scenes.push_back(PlannedScene(day->scenes.back()));
  return true;
}

bool other_unit(Breaking& it) {
  if (it.production.units.size() < 2) return false;
  PlannedScene* scene = it.row(&DayPlan::scenes);
  if (scene == nullptr) return false;
  scene->unit = UnitId(scene->unit.index() == 0 ? 1 : 0);
  return true;
}

/// A scene onto, or right behind, another of its unit.
bool onto_the_one_before(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr) return false;
  for (PlannedScene& one : day->scenes) {
    for (const PlannedScene& other : day->scenes) {
      if (&one == &other || one.unit != other.unit || one.set_at < other.set_at) continue;
      move(one, other.until - one.set_at - Minutes{it.random.between(0, 1)});
      return true;
    }
  }
  return false;
}

bool scene_later(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes);
  if (scene == nullptr) return false;
  move(*scene, Minutes{it.random.between(1, 240)});
  return true;
}

bool scene_earlier(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes);
  if (scene == nullptr) return false;
  move(*scene, -Minutes{it.random.between(1, 120)});
  return true;
}

bool whole_day_later(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr) return false;
  move(*day, it.production.round_to * it.random.between(1, 60));
  return true;
}

bool whole_day_earlier(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr) return false;
  move(*day, -it.production.round_to * it.random.between(1, 20));
  return true;
}

bool half_a_day_later(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr) return false;
  move(*day, Minutes{12 * 60});
  return true;
}

bool onto_another_day(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr || it.production.days.size() < 2) return false;
  for (const DayId other : it.production.days.ids()) {
    const bool listed =
        std::any_of(it.plan.days.begin(), it.plan.days.end(), [&](const DayPlan& row) {
          return row.day == other && !row.scenes.empty();
        });
    if (listed) continue;
    std::erase_if(it.plan.days, [&](const DayPlan& row) { return row.day == other; });
    day = it.filmed_day();
    day->day = other;
    // a meal that the other day does not have is no rule broken but a fault of the file
    std::erase_if(day->meals, [&](const PlannedMeal& meal) {
      return written_meal(it.production, other, meal.meal) == nullptr;
    });
    return true;
  }
  return false;
}

/// Two scenes swap their places in the day.
bool swapped(Breaking& it) {
  DayPlan* day = it.filmed_day();
  if (day == nullptr || day->scenes.size() < 2) return false;
  PlannedScene& one = day->scenes.front();
  PlannedScene& other = day->scenes.back();
  const Minutes apart = other.set_at - one.set_at;
  move(one, apart);
  move(other, -apart);
  return true;
}

/// A scene with a light of its own moved alone, its people as they were.
bool out_of_its_light(Breaking& it) {
  PlannedScene* scene = it.row(&DayPlan::scenes, [&](const PlannedScene& row) {
    return it.production.scenes[row.scene].light != Light::any;
  });
  if (scene == nullptr) return false;
  move(*scene, Minutes{it.random.between(60, 720)});
  return true;
}

}  // namespace

const std::vector<Way>& ways_of_scenes() {
  static const std::vector<Way> ways = {
      {1, "a shot a minute shorter", shorter_shot},
      {1, "a longer set-up", longer_set_up},
      {1, "a shorter set-up", shorter_set_up},
      {1, "a scene forgotten", scene_forgotten},
      {1, "a scene given up and filmed", scene_given_up_and_filmed},
      {1, "a lost scene not told", lost_scene_not_told},
      {1, "a lost scene without a reason", lost_without_reason},
      {1, "a scene filmed twice", filmed_twice},
      {1, "a scene filmed on another day too", filmed_on_another_day_too},
      {2, "a scene by another unit", other_unit},
      {2, "a scene onto the one before it", onto_the_one_before},
      {2, "a scene later", scene_later},
      {2, "a scene earlier", scene_earlier},
      {4, "the whole day later", whole_day_later},
      {4, "the whole day earlier", whole_day_earlier},
      {4, "a whole day onto another", onto_another_day},
      {4, "two scenes swapped", swapped},
      {5, "the whole day twelve hours later", half_a_day_later},
      {5, "a scene out of its light", out_of_its_light}};
  return ways;
}

}  // namespace gp::test
