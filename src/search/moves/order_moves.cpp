// The order in which scenes are placed: one run of scenes moved, two swapped, a run turned round.
#include "ordering/sequence.h"
#include "search/move.h"

#include <algorithm>

namespace gp {
namespace {

/// Keeps every `after`; whether the order is another than before.
bool mended(const Problem& problem, Recipe& recipe, const std::vector<SceneId>& changed) {
  std::vector<SceneId> order = forerunners_first(problem.production, changed);
  if (order == recipe.order) return false;
  recipe.order = std::move(order);
  return true;
}

}  // namespace

bool shift_scenes(const Problem& problem, Recipe& recipe, Random& random) {
  const std::size_t n = recipe.order.size();
  if (n < 2) return false;
  const std::size_t length = 1 + random.index(std::min<std::size_t>(3, n - 1));
  const std::size_t from = random.index(n - length + 1);
  std::vector<SceneId> order = recipe.order;
  const auto begin = order.begin() + static_cast<std::ptrdiff_t>(from);
  const std::vector<SceneId> run(begin, begin + static_cast<std::ptrdiff_t>(length));
  order.erase(begin, begin + static_cast<std::ptrdiff_t>(length));
  const std::size_t to = random.index(order.size() + 1);
  order.insert(order.begin() + static_cast<std::ptrdiff_t>(to), run.begin(), run.end());
  return mended(problem, recipe, order);
}

bool swap_scenes(const Problem& problem, Recipe& recipe, Random& random) {
  const std::size_t n = recipe.order.size();
  if (n < 2) return false;
  std::vector<SceneId> order = recipe.order;
  std::swap(order[random.index(n)], order[random.index(n)]);
  return mended(problem, recipe, order);
}

bool turn_scenes(const Problem& problem, Recipe& recipe, Random& random) {
  const std::size_t n = recipe.order.size();
  if (n < 3) return false;
  std::size_t from = random.index(n);
  std::size_t until = random.index(n);
  if (from > until) std::swap(from, until);
  std::vector<SceneId> order = recipe.order;
  std::reverse(order.begin() + static_cast<std::ptrdiff_t>(from),
               order.begin() + static_cast<std::ptrdiff_t>(until) + 1);
  return mended(problem, recipe, order);
}

}  // namespace gp
