#include "search/built_times.h"

#include <algorithm>

namespace gp {

BuiltTimes times_of(const Problem& problem, const Builder& builder) {
  BuiltTimes times(problem.production.scenes.size());
  for (const SceneId scene : problem.production.scenes.ids()) {
    if (const auto& filmed = builder.filmed(scene)) {
      times[scene] = SceneTimes{filmed->day, filmed->set_at, filmed->until, filmed->shoot_at};
    }
  }
  return times;
}

std::vector<SceneId> scenes_on(const BuiltTimes& times, std::size_t day) {
  std::vector<SceneId> row;
  for (const SceneId scene : times.ids()) {
    if (times[scene] && times[scene]->day == day) row.push_back(scene);
  }
  std::stable_sort(row.begin(), row.end(), [&](SceneId a, SceneId b) {
    return times[a]->shoot_at < times[b]->shoot_at;
  });
  return row;
}

std::vector<SceneId> row_of(const Problem& problem, const BuiltTimes& times, SceneId any) {
  const auto& scenes = problem.production.scenes;
  std::vector<SceneId> row = scenes_on(times, times[any]->day);
  std::erase_if(row, [&](SceneId scene) { return scenes[scene].unit != scenes[any].unit; });
  return row;
}

}  // namespace gp
