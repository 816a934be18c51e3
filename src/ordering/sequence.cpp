#include "ordering/sequence.h"

namespace gp {

std::vector<SceneId> forerunners_first(const Production& production,
                                       const std::vector<SceneId>& order) {
  std::vector<SceneId> result;
  result.reserve(order.size());
  Table<SceneId, char> taken(production.scenes.size(), 0);
  std::vector<SceneId> waiting;
  for (SceneId wanted : order) {
    waiting.push_back(wanted);
    while (!waiting.empty()) {
      const SceneId scene = waiting.back();
      if (taken[scene] != 0) {
        waiting.pop_back();
        continue;
      }
      const std::size_t depth = waiting.size();
      for (SceneId before : production.scenes[scene].after) {
        if (taken[before] == 0) waiting.push_back(before);
      }
      if (waiting.size() > depth) continue;
      taken[scene] = 1;
      result.push_back(scene);
      waiting.pop_back();
    }
  }
  return result;
}

}  // namespace gp
