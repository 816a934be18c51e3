#pragma once

#include "ordering/presence.h"
#include "ordering/sets.h"

#include <array>
#include <cstdint>
#include <vector>

namespace gp {

/// An order half made, from both ends: which scenes are still to be put in the middle, and who has
/// appeared before and after it.
struct PresenceGap {
  SceneSet middle = 0;
  PeopleSet left = 0;   ///< have appeared before the middle
  PeopleSet right = 0;  ///< will appear after it
};

/// What the middle costs at least, whatever its order.
class PresenceBound {
 public:
  explicit PresenceBound(const PresenceProblem& problem);

  /// Everybody in any of the scenes.
  [[nodiscard]] PeopleSet people_of(SceneSet scenes) const;
  /// Minutes of a scene times the weight of those there: its people and whoever is kept waiting.
  [[nodiscard]] std::int64_t scene_cost(int scene, PeopleSet there) const {
    const auto at = static_cast<std::size_t>(scene);
    return problem_.minutes[at] * weight_(problem_.cast[at] | (there & ~problem_.unpaid[at]));
  }

  /// The work itself; those of both sides wait through all that they are not in; of those of one
  /// side, groups of up to five leave (or come) one after the other in the best order, the others
  /// of the group waiting in scenes they are not in; and where one of the left and one of the right
  /// share a scene, one of the two is there in every scene, so one waits where neither is needed.
  /// Nobody's waiting is counted twice: what a pair counts of its people's weight is taken off it.
  /// After Garcia de la Banda, Stuckey and Chu 2011, doi:10.1287/ijoc.1090.0378 (pairs of one
  /// side); the groups and the pairs across are ours.
  /// \param people  people_of(gap.middle)
  /// Cost: some microseconds; O(scenes + 32 × people / 5 + left × right).
  [[nodiscard]] std::int64_t operator()(const PresenceGap& gap, PeopleSet people) const;
  /// Of that, the work itself and the waiting of those of both sides: the same in any order.
  [[nodiscard]] std::int64_t certain(const PresenceGap& gap) const;

 private:
  using Weights = std::array<std::int64_t, 64>;
  [[nodiscard]] std::int64_t one_side(PeopleSet side, SceneSet middle, const Weights& weight) const;
  [[nodiscard]] std::int64_t group(const int* people,
                                   int size,
                                   SceneSet middle,
                                   const Weights& weight) const;

  const PresenceProblem& problem_;
  SetSums minutes_, weight_, work_;
  std::vector<SceneSet> scenes_;       ///< of each person
  std::vector<SceneSet> not_waiting_;  ///< of each person: theirs, and those where they are unpaid
};

}  // namespace gp
