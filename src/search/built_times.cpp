#include "search/built_times.h"

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

}  // namespace gp
