#pragma once

#include "base/stop.h"
#include "ordering/presence_exact.h"
#include "search/problem.h"

#include <cstdint>
#include <vector>

namespace gp {

/// The scenes that one unit must film on one day, as a question of order alone: how long those
/// whose parts are theirs are kept from their first scene to their last. Everything else is left
/// out, so that no plan can do better: set-ups, windows, looks, and whoever might do something else
/// of use meanwhile (in another unit, at a station, in a crowd's look); in scenes where someone may
/// be crew or one of a crowd as they are, their waiting costs nothing.
struct PresencePart {
  std::vector<SceneId> scenes;
  PresenceProblem problem;  ///< weights in thousandths, minutes of shooting
  Thousandths work = 0;     ///< of those people in their own scenes
  /// What those who change their look between scenes may spend on it while they seem to wait.
  Thousandths changes = 0;
};

struct SolvedPart {
  PresencePart part;
  std::vector<SceneId> order;  ///< of part.scenes
  /// Their waiting is at least this, on top of all work and every look's chain once.
  Thousandths waiting = 0;
};

/// \param scenes      those that are filmed, in order of id
/// \param all_filled  nobody is missing in them: crew that only one can do is certain too
/// \param most_nodes  for all parts together
std::vector<SolvedPart> solve_presence(const Problem& problem,
                                       const std::vector<SceneId>& scenes,
                                       bool all_filled,
                                       std::uint64_t most_nodes,
                                       Stop& stop);

/// The order with each part's scenes, where they stand in it, put in the part's order; keeps every
/// `after`.
std::vector<SceneId> in_presence_order(const Problem& problem,
                                       const std::vector<SceneId>& order,
                                       const std::vector<SolvedPart>& parts);

}  // namespace gp
