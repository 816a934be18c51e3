#pragma once

#include "model/plan.h"
#include "model/production.h"

#include <cstdint>
#include <vector>

namespace gp::bench {

/// What a careful person with paper and pencil makes of a production: the scenes in the order of
/// the list, each as early as it can be, and one common call for everybody of a look.
struct ByHand {
  Plan plan;  ///< right: its calls are each person's own, worked back from their first engagement
  /// With the common calls: whoever begins the day in a look comes when the first of that look must
  /// (or as soon as they are free), and waits.
  Thousandths weighted_on_site = 0;
  std::int64_t on_site = 0;          ///< minutes
  std::vector<SceneId> out_of_turn;  ///< scenes that could not stand where the list has them
};

/// The production in which every scene comes after the one before it on the list, of those of the
/// same unit; the scenes named follow nobody and nobody follows them for that reason.
Production in_listed_order(const Production& production, const std::vector<SceneId>& out_of_turn);

/// The planner builds it held to the list, without any search where that leaves out no more than
/// must be; then the calls are made common. A scene that the list's order would lose, and that is
/// not lost otherwise, is taken out of turn: so would a person. Who helps and who fills the crowds
/// is the planner's choice, which is more than a person with a list has time for: the comparison is
/// kind to them.
/// \throws std::runtime_error  the plan breaks a rule: then it is no comparison
ByHand by_hand(const Production& production);

/// The sum of weighted minutes on site when everyone who begins the day in the same look is called
/// together; `on_site` gets the plain minutes.
Thousandths with_common_calls(const Production& production,
                              const Plan& plan,
                              std::int64_t& on_site);

}  // namespace gp::bench
