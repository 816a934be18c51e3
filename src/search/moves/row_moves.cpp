// The order of a unit's day, with the times as built: who changes places takes the minutes along.
#include "ordering/sequence.h"
#include "search/move.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace gp {
namespace {

/// The scenes of a unit on a day in a new order, and the first and the last that changed places.
struct NewRow {
  std::vector<SceneId> scenes;
  std::size_t first = 0, last = 0;
};

NewRow shifted(const std::vector<SceneId>& row, Random& random) {
  const std::size_t n = row.size();
  const std::size_t length = 1 + random.index(std::min<std::size_t>(3, n - 1));
  const std::size_t from = random.index(n - length + 1);
  std::size_t to = random.index(n - length);
  if (to >= from) ++to;
  NewRow result{row, std::min(from, to), std::max(from, to) + length - 1};
  auto& scenes = result.scenes;
  const auto at = [&](std::size_t k) { return scenes.begin() + static_cast<std::ptrdiff_t>(k); };
  if (from < to) std::rotate(at(from), at(from + length), at(to + length));
  if (from > to) std::rotate(at(to), at(from), at(from + length));
  return result;
}

NewRow swapped(const std::vector<SceneId>& row, Random& random) {
  const std::size_t a = random.index(row.size());
  std::size_t b = random.index(row.size() - 1);
  if (b >= a) ++b;
  NewRow result{row, std::min(a, b), std::max(a, b)};
  std::swap(result.scenes[a], result.scenes[b]);
  return result;
}

NewRow turned(const std::vector<SceneId>& row, Random& random) {
  NewRow result = swapped(row, random);
  result.scenes = row;
  std::reverse(result.scenes.begin() + static_cast<std::ptrdiff_t>(result.first),
               result.scenes.begin() + static_cast<std::ptrdiff_t>(result.last) + 1);
  return result;
}

/// Holds back what changed places.
class Layer {
 public:
  Layer(const Problem& problem, const BuiltTimes& times, const std::vector<SceneId>& old)
      : film_(problem.production),
        frame_(problem.days[times[old.front()]->day]),
        times_(times),
        old_(old) {}

  /// One after the other from where the changed ones began.
  void forwards(const NewRow& row, Recipe& recipe) const {
    Minute at = times_[old_[row.first]]->set_at;
    for (std::size_t k = row.first; k <= row.last; ++k) {
      if (k > row.first) at += way(row, k);
      const Minute shot = at + set_up(row, k);
      recipe.hold_back[row.scenes[k]] = held_until(frame_, shot);
      at = shot + film_.scenes[row.scenes[k]].shoot_minutes;
    }
  }

  /// One before the other to where they ended.
  void backwards(const NewRow& row, Recipe& recipe) const {
    Minute at = times_[old_[row.last]]->until;
    for (std::size_t k = row.last + 1; k-- > row.first;) {
      const Minute shot = at - film_.scenes[row.scenes[k]].shoot_minutes;
      recipe.hold_back[row.scenes[k]] = held_until(frame_, shot);
      at = shot - set_up(row, k);
      if (k > row.first) at -= way(row, k);
    }
  }

 private:
  [[nodiscard]] Minutes way(const NewRow& row, std::size_t k) const {
    return film_.way(frame_.scene_place[row.scenes[k - 1]], frame_.scene_place[row.scenes[k]]);
  }
  [[nodiscard]] Minutes set_up(const NewRow& row, std::size_t k) const {
    const Scene& scene = film_.scenes[row.scenes[k]];
    const bool same =
        k > 0 && !scene.set.empty() && film_.scenes[row.scenes[k - 1]].set == scene.set;
    return same ? scene.reset_minutes : scene.set_minutes;
  }

  const Production& film_;
  const DayFrame& frame_;
  const BuiltTimes& times_;
  const std::vector<SceneId>& old_;
};

/// Gives the scenes of a row its order, at the places that they have in the recipe's.
void reorder(const std::vector<SceneId>& row, Recipe& recipe) {
  std::size_t next = 0;
  for (SceneId& scene : recipe.order) {
    if (std::find(row.begin(), row.end(), scene) != row.end()) scene = row[next++];
  }
}

}  // namespace

bool reorder_row(const Problem& problem, const BuiltTimes& times, Recipe& recipe, Random& random) {
  const auto& film = problem.production;
  if (film.scenes.empty()) return false;
  const SceneId any(random.index(film.scenes.size()));
  if (!times[any]) return false;
  const std::vector<SceneId> row = row_of(problem, times, any);
  if (row.size() < 2) return false;
  const std::uint32_t kind = random.below(6);
  const NewRow next = kind < 3   ? shifted(row, random)
                      : kind < 5 ? swapped(row, random)
                                 : turned(row, random);
  reorder(next.scenes, recipe);
  recipe.order = forerunners_first(film, recipe.order);
  const Layer layer(problem, times, row);
  switch (random.below(3)) {
    case 0:
      layer.forwards(next, recipe);
      break;
    case 1:
      layer.backwards(next, recipe);
      break;
    default:  // as early as they can
      for (std::size_t k = next.first; k <= next.last; ++k) {
        recipe.hold_back[next.scenes[k]] = Minutes{0};
      }
  }
  return true;
}

}  // namespace gp
