// Who plays a part, who is rather not asked, and whether a scene waits for its whole crowd.
#include "search/move.h"

#include <algorithm>
#include <cstdint>
#include <utility>

namespace gp {
namespace {

/// So many people are few enough for each to matter.
constexpr std::uint32_t kFew = 32;

}  // namespace

bool change_part(const Problem& problem, Recipe& recipe, Random& random) {
  if (recipe.part.empty()) return false;
  const RoleId role(random.index(recipe.part.size()));
  const auto& candidates = problem.slots.for_some_of_part(role);
  if (candidates.size() < 2) return false;
  const PersonId who = candidates[random.index(candidates.size())];
  if (who == recipe.part[role]) return false;
  recipe.part[role] = who;
  return true;
}

bool change_turn(const Problem& problem, Recipe& recipe, Random& random) {
  if (recipe.turn.size() < 2) return false;
  const RoleId a(random.index(recipe.turn.size()));
  const RoleId b(random.index(recipe.turn.size()));
  if (a == b || problem.production.roles[a].crowd || problem.production.roles[b].crowd)
    return false;
  const int old_a = recipe.turn[a];
  const int old_b = recipe.turn[b];
  if (random.chance(1, 2)) {
    std::swap(recipe.turn[a], recipe.turn[b]);
  } else {
    recipe.turn[a] = recipe.turn[b] + (random.chance(1, 2) ? 1 : -1);
  }
  return recipe.turn[a] != old_a || recipe.turn[b] != old_b;
}

bool change_patience(const Problem& /*problem*/, Recipe& recipe, Random& random) {
  if (recipe.order.empty()) return false;
  const SceneId scene = recipe.order[random.index(recipe.order.size())];
  recipe.patient[scene] = recipe.patient[scene] == 0 ? 1 : 0;
  return true;
}

bool lean(const Problem& problem, Recipe& recipe, Random& random) {
  // Of many, one alone decides little, and the whole day is built anew for it.
  const auto people = static_cast<std::uint32_t>(problem.production.people.size());
  if (people == 0 || recipe.reluctance.empty()) return false;
  if (!random.chance(std::min(kFew, people), people)) return false;
  const std::size_t day =
      recipe.reluctance.size() == 1 ? 0 : random.index(recipe.reluctance.size());
  int& reluctance = recipe.reluctance[day][PersonId(random.index(people))];
  const int old = reluctance;
  reluctance = random.chance(1, 3) ? 0 : random.between(-90, 240);
  return reluctance != old;
}

bool change_stayers(const Problem& problem, Recipe& recipe, Random& random) {
  if (recipe.order.empty()) return false;
  const SceneId scene = recipe.order[random.index(recipe.order.size())];
  const auto& slots = problem.slots.of(scene);
  const bool choice = std::any_of(slots.begin(), slots.end(), [](const Slot& slot) {
    return slot.candidates.size() > static_cast<std::size_t>(slot.people);
  });
  if (!choice) return false;
  const int old = recipe.stayers[scene];
  recipe.stayers[scene] = random.chance(1, 3) ? 0 : random.between(-60, 90);
  return recipe.stayers[scene] != old;
}

bool change_pick(const Problem& problem, Recipe& recipe, Random& random) {
  if (recipe.order.empty()) return false;
  const SceneId scene = recipe.order[random.index(recipe.order.size())];
  const auto& slots = problem.slots.of(scene);
  if (slots.empty()) return false;
  const std::size_t s = random.index(slots.size());
  const Slot& slot = slots[s];
  const auto heads = static_cast<std::size_t>(slot.people);
  if (slot.kind == Slot::Kind::part || slot.candidates.size() <= heads) return false;
  const std::size_t head = problem.first_head_of(scene, s);
  if (random.chance(1, 4)) {
    bool changed = false;
    for (std::size_t k = head; k < head + heads; ++k) {
      changed = changed || recipe.picks[k].valid();
      recipe.picks[k] = PersonId();
    }
    return changed;
  }
  PersonId& pick = recipe.picks[head + random.index(heads)];
  const PersonId old = pick;
  pick = random.chance(1, 4) ? PersonId() : slot.candidates[random.index(slot.candidates.size())];
  return pick != old;
}

bool turn_heads(const Problem& problem, Recipe& recipe, Random& random) {
  if (recipe.order.empty()) return false;
  const SceneId scene = recipe.order[random.index(recipe.order.size())];
  const auto& slots = problem.slots.of(scene);
  const auto heads = std::count_if(
      slots.begin(), slots.end(), [](const Slot& slot) { return slot.kind != Slot::Kind::part; });
  if (heads < 2) return false;
  const int old = recipe.heads_first[scene];
  recipe.heads_first[scene] = static_cast<int>(random.index(static_cast<std::size_t>(heads)));
  return recipe.heads_first[scene] != old;
}

}  // namespace gp
