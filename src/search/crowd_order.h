#pragma once

#include "base/stop.h"
#include "ordering/presence.h"
#include "search/move.h"
#include "search/problem.h"
#include "search/recipe.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace gp {

/// What an order of scenes keeps people from their first to their last, crowds too: the heads that
/// a look needs in some scenes and not in others count as people who are in just those. An
/// estimate, no bound, and a thousand times as fast as building a plan: heads may be relieved by
/// others, and of hours, chairs and ways nothing is known here.
class CrowdPresence {
 public:
  /// \param first  who plays the parts
  CrowdPresence(const Problem& problem, const Recipe& first);

  /// None: fewer than three scenes, or more than 64.
  [[nodiscard]] bool known() const { return known_; }
  /// Weighted minutes in thousandths, each day and unit by itself. Requires known().
  /// \param times  on which day each scene stands; where it is not filmed: on the first
  [[nodiscard]] std::int64_t of(const std::vector<SceneId>& order, const BuiltTimes& times) const;
  /// A good order to begin from, of all scenes as if one unit filmed them on one day, but with what
  /// must come before what by `after` and by the hours. Requires known().
  /// Source: search_presence(); some thousand orders a scene.
  [[nodiscard]] std::vector<SceneId> good_order(Stop& stop) const;

 private:
  const Problem& problem_;
  bool known_ = false;
  PresenceProblem question_;
};

}  // namespace gp
