#pragma once

#include "base/ids.h"
#include "explain/whatif/change.h"
#include "model/production.h"

#include <variant>
#include <vector>

namespace gp::whatif {

/// A production after changes. People, roles, looks, stations, items and days keep their ids; new
/// people come after all others; a dropped scene is gone.
struct Changed {
  Production production;
  Table<SceneId, SceneId> scene_now;  ///< for each scene of the old one; none: dropped
  std::vector<PersonId> new_people;
};

/// The production with all the changes made, in their order (scenes are dropped last). What comes
/// back passes what a production file must pass (read with people still coming, for a part that
/// nobody may play any more is something to see in the plan); otherwise what is wrong is told.
/// \param changes  made for `production`: their ids are its ids
/// Cost: some milliseconds for a large production. Threads: pure.
std::variant<Changed, Mistake> apply(const Production& production,
                                     const std::vector<Change>& changes);

}  // namespace gp::whatif
