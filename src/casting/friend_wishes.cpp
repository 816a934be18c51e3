#include "casting/friend_wishes.h"

#include <algorithm>

namespace gp {
namespace {

constexpr int kFriendRounds = 3;

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

/// Who is in a scene, by person.
void mark_here(const CastSolution& it, std::size_t scene, std::vector<char>& here) {
  std::fill(here.begin(), here.end(), char{0});
  for (const auto& who : it.filled[scene]) {
    for (const int p : who) here[at(p)] = 1;
  }
}

}  // namespace

FriendWishes::FriendWishes(const CastProblem& problem)
    : problem_(problem), liked_by_(liked_by(problem)) {
  any_ =
      std::any_of(liked_by_.begin(), liked_by_.end(), [](const auto& by) { return !by.empty(); });
}

void FriendWishes::bring_together(HeadFlow& flow, CastSolution& it, Stop& stop) const {
  if (!any_) return;
  fill_again(flow, it, stop);
  exchange_heads(it, stop);
}

void FriendWishes::fill_again(HeadFlow& flow, CastSolution& it, Stop& stop) const {
  CastSolution found = it;
  std::vector<char> here(at(problem_.people));
  for (int round = 0; round < kFriendRounds; ++round) {
    std::vector<std::vector<std::int32_t>> bonus(problem_.scenes.size(),
                                                 std::vector<std::int32_t>(at(problem_.people), 0));
    for (std::size_t s = 0; s < problem_.scenes.size(); ++s) {
      mark_here(found, s, here);
      for (int p = 0; p < problem_.people; ++p) {
        for (const int other : problem_.friends[at(p)]) {
          if (here[at(other)] != 0) bonus[s][at(p)] += problem_.friend_worth;
          if (here[at(p)] != 0) bonus[s][at(other)] += problem_.friend_worth;
        }
      }
    }
    CastSolution next = found;
    if (!flow.fill(next, bonus, &stop) || next.cost >= it.cost) return;
    found = std::move(next);
    it = found;
  }
}

/// One head for another in the same place, as long as that is better.
void FriendWishes::exchange_heads(CastSolution& it, Stop& stop) const {
  Load load{std::vector<std::int64_t>(at(problem_.people), 0),
            std::vector<char>(at(problem_.groups) * at(problem_.people), 0)};
  for (std::size_t s = 0; s < problem_.scenes.size(); ++s) {
    for (const auto& who : it.filled[s]) {
      for (const int p : who) {
        ++load.scenes_of[at(p)];
        load.taken[at(problem_.scenes[s].group) * at(problem_.people) + at(p)] = 1;
      }
    }
  }
  for (bool better = true; better;) {
    better = false;
    for (std::size_t s = 0; s < problem_.scenes.size() && !stop.now_exactly(); ++s) {
      better = exchange_in(it, s, load) || better;
    }
  }
  it.cost = cast_cost(problem_, it);
}

/// Friendships there are between one person and all others of the scene but `without`.
std::int64_t FriendWishes::ties(const std::vector<char>& here, int person, int without) const {
  std::int64_t number = 0;
  for (const auto* others : {&problem_.friends[at(person)], &liked_by_[at(person)]}) {
    for (const int other : *others) {
      if (other != without && here[at(other)] != 0) ++number;
    }
  }
  return number;
}

bool FriendWishes::exchange_in(CastSolution& it, std::size_t s, Load& load) const {
  const auto& scene = problem_.scenes[s];
  char* const busy = &load.taken[at(scene.group) * at(problem_.people)];
  std::vector<char> here(at(problem_.people), 0);
  mark_here(it, s, here);
  bool better = false;
  for (std::size_t k = 0; k < scene.places.size(); ++k) {
    if (scene.places[k].part >= 0) continue;
    for (int& head : it.filled[s][k]) {
      const auto cost = [&](int p, std::int64_t scenes) {
        return scene.places[k].wish[at(p)] + problem_.burden[at(p)] * (2 * scenes - 1) -
               problem_.friend_worth * ties(here, p, head);
      };
      std::int64_t least = cost(head, load.scenes_of[at(head)]);
      int best = head;
      for (const int p : scene.openings[at(it.opening[s])].candidates[k]) {
        if (busy[p] != 0) continue;
        const std::int64_t now = cost(p, load.scenes_of[at(p)] + 1);
        if (now < least) {
          least = now;
          best = p;
        }
      }
      if (best == head) continue;
      busy[head] = here[at(head)] = 0;
      busy[best] = here[at(best)] = 1;
      --load.scenes_of[at(head)];
      ++load.scenes_of[at(best)];
      head = best;
      better = true;
    }
    std::sort(it.filled[s][k].begin(), it.filled[s][k].end());
  }
  return better;
}

}  // namespace gp
