#pragma once

#include <cstdint>
#include <vector>

// The order of scenes alone: everybody is paid (or waits, unpaid) from their first scene to their
// last, and the order is sought that makes this least. In the literature: talent scheduling (Cheng,
// Diamond and Lin 1993, doi:10.1007/BF00940554).

namespace gp {

/// Sets of scenes and of people, as bits.
using SceneSet = std::uint64_t;
using PeopleSet = std::uint64_t;

/// At most 64 scenes and 64 people; see reduced() for larger ones.
struct PresenceProblem {
  std::vector<std::int64_t> minutes;  ///< of each scene, >= 0
  std::vector<std::int64_t> weight;   ///< of each person's minute, >= 0
  std::vector<PeopleSet> cast;        ///< of each scene
  std::vector<SceneSet> before;       ///< scenes that must come before each scene; no circles
  /// Of each scene: those whose waiting in it costs nothing, because they may be of use there.
  std::vector<PeopleSet> unpaid;

  [[nodiscard]] std::size_t scenes() const { return minutes.size(); }
  [[nodiscard]] std::size_t people() const { return weight.size(); }
};

/// Weight times minutes from first to last scene, over everybody; waiting unpaid left out.
/// \param order  every scene once
/// Cost: O(scenes × people).
std::int64_t presence(const PresenceProblem& problem, const std::vector<int>& order);

/// The same problem with fewer scenes: those with the same people, unpaid ones too, and no order
/// asked are filmed one after the other in some best order (Cheng et al. 1993, from memory), and
/// scenes with nobody cost nothing.
struct ReducedPresence {
  PresenceProblem problem;
  std::vector<std::vector<int>> scenes;  ///< of the original, for each that is left
  std::vector<int> nobody;               ///< of the original: with nobody in them; put last
  /// An order of the reduced problem as one of the original.
  [[nodiscard]] std::vector<int> original(const std::vector<int>& order) const;
};
ReducedPresence reduced(const PresenceProblem& problem);

}  // namespace gp
