// Days, meals, and scenes held back on purpose so that those after them wait less.
#include "search/move.h"

#include <algorithm>

namespace gp {

bool change_day(const Problem& problem, Recipe& recipe, Random& random) {
  if (problem.days.size() < 2 || recipe.order.empty()) return false;
  const SceneId scene = recipe.order[random.index(recipe.order.size())];
  const auto day = static_cast<int>(random.index(problem.days.size()));
  if (recipe.day[scene] == day || !problem.open_on(scene, static_cast<std::size_t>(day))) {
    return false;
  }
  recipe.day[scene] = day;
  return true;
}

bool shift_meal(const Problem& problem, Recipe& recipe, Random& random) {
  if (problem.days.empty()) return false;
  const std::size_t d = random.index(problem.days.size());
  const DayFrame& frame = problem.days[d];
  if (frame.meals.empty()) return false;
  const std::size_t m = random.index(frame.meals.size());
  const MealFrame& meal = frame.meals[m];
  if (!meal.together || meal.between.length() < meal.minutes) return false;
  const std::int32_t spare = count(meal.between.length() - meal.minutes);
  std::optional<Minute> start;
  // Now and then not at all: right only where nobody is there all through its span.
  if (!random.chance(1, 12)) {
    const Minute at = meal.between.from + Minutes{random.between(0, spare)};
    const Minute even = minute(count(at) / 5 * 5);
    start = even >= meal.between.from && random.chance(3, 4) ? even : at;
    if (recipe.meals[d][m] && random.chance(1, 2)) {
      const Minute near = *recipe.meals[d][m] + Minutes{random.between(-15, 15)};
      start = std::clamp(near, meal.between.from, meal.between.until - meal.minutes);
    }
  }
  if (start && !(frame.nameable(*start) && frame.nameable(*start + meal.minutes))) return false;
  if (start == recipe.meals[d][m]) return false;
  recipe.meals[d][m] = start;
  return true;
}

bool hold_scene_back(const Problem& /*problem*/, Recipe& recipe, Random& random) {
  if (recipe.order.empty()) return false;
  const SceneId scene = recipe.order[random.index(recipe.order.size())];
  Minutes held{0};
  if (recipe.hold_back[scene] == Minutes{0} || random.chance(1, 2)) {
    held = std::max(Minutes{0}, recipe.hold_back[scene] + Minutes{random.between(-12, 18) * 5});
  }
  if (held == recipe.hold_back[scene]) return false;
  recipe.hold_back[scene] = held;
  return true;
}

}  // namespace gp
