#include "search/move.h"

#include <algorithm>
#include <vector>

namespace gp {
namespace {

struct Gap {
  std::size_t after = 0;  ///< index into the row of the unit's day
  Minutes length{};
};

}  // namespace

bool close_gap(const Problem& problem, const BuiltTimes& times, Recipe& recipe, Random& random) {
  const auto& film = problem.production;
  if (film.scenes.empty()) return false;
  const SceneId any(random.index(film.scenes.size()));
  if (!times[any]) return false;
  const std::vector<SceneId> row = row_of(problem, times, any);
  const DayFrame& frame = problem.days[times[any]->day];
  std::vector<Gap> gaps;
  for (std::size_t i = 0; i + 1 < row.size(); ++i) {
    const Minutes way = film.way(frame.scene_place[row[i]], frame.scene_place[row[i + 1]]);
    const Minutes length = times[row[i + 1]]->set_at - times[row[i]]->until - way;
    if (length > Minutes{0}) gaps.push_back({i, length});
  }
  if (gaps.empty()) return false;
  const Gap gap = gaps[random.index(gaps.size())];
  Minutes later = gap.length;
  if (random.chance(1, 4)) later = Minutes{random.between(1, count(gap.length))};
  const std::size_t block = 1 + random.index(gap.after + 1);
  for (std::size_t i = gap.after + 1 - block; i <= gap.after; ++i) {
    // no later than its light or its hours allow
    const Span shot{times[row[i]]->shoot_at, times[row[i]]->until};
    for (const Span& window : problem.windows[times[row[i]]->day][row[i]]) {
      if (window.covers(shot)) later = std::min(later, window.until - shot.until);
    }
  }
  if (later <= Minutes{0}) return false;
  bool changed = false;
  if (random.chance(1, 2)) {
    // Scenes do not move across a meal; but where all come late enough nobody need be fed.
    const Minute from = times[row[gap.after]]->until;
    for (auto& meal : recipe.meals[times[any]->day]) {
      if (!meal || *meal < from || *meal >= from + gap.length) continue;
      meal.reset();
      changed = true;
    }
  }
  for (std::size_t i = gap.after + 1 - block; i <= gap.after; ++i) {
    const Minutes held = held_until(frame, times[row[i]]->shoot_at + later);
    changed = changed || recipe.hold_back[row[i]] != held;
    recipe.hold_back[row[i]] = held;
  }
  return changed;
}

bool miss_meal(const Problem& problem, const BuiltTimes& times, Recipe& recipe, Random& random) {
  const auto& film = problem.production;
  if (problem.days.empty()) return false;
  const std::size_t day = random.index(problem.days.size());
  const DayFrame& frame = problem.days[day];
  if (frame.meals.empty()) return false;
  const std::size_t meal = random.index(frame.meals.size());
  if (!recipe.meals[day][meal]) return false;
  recipe.meals[day][meal].reset();
  const bool later = random.chance(1, 2);
  for (const SceneId scene : film.scenes.ids()) {
    if (!times[scene] || times[scene]->day != day) continue;
    if (!later) {
      recipe.hold_back[scene] = Minutes{0};
      continue;
    }
    // whoever is called for it alone is called at the next call after the span begins
    Minutes before = film.sign_in + film.way(frame.base, frame.scene_place[scene]);
    if (times[scene]->set_at < times[scene]->shoot_at && random.chance(1, 2)) {
      before += times[scene]->shoot_at - times[scene]->set_at;
    }
    const Minute shot = frame.meals[meal].between.from + film.round_to + before;
    if (times[scene]->shoot_at < shot) {
      recipe.hold_back[scene] = held_until(frame, shot);
    }
  }
  return true;
}

}  // namespace gp
