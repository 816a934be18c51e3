#pragma once

#include "explain/absence/survival.h"
#include "model/production.h"

#include <map>
#include <set>
#include <utility>
#include <vector>

namespace gp::absence {

/// What a plan is held to besides the file, so that people are free to stand in for others.
struct Steer {
  std::map<RoleId, PersonId> cast;                        ///< who plays a part with a choice
  std::set<std::pair<SceneId, PersonId>> not_crew;        ///< kept from every job of the scene
  std::set<std::pair<RoleId, PersonId>> not_crowd;        ///< kept from a crowd, in all scenes
  std::set<std::pair<StationId, PersonId>> not_at_chair;  ///< kept from helping at a station
  auto operator<=>(const Steer&) const = default;
  [[nodiscard]] bool empty() const {
    return cast.empty() && not_crew.empty() && not_crowd.empty() && not_at_chair.empty();
  }
};

/// The production held to it: every plan of it is one of the original too, but for reasons and
/// bounds.
Production steered(const Production& production, const Steer& steer);

/// Steps from `now` that might make the plan likelier, the most promising first: each gives a part
/// to somebody else, keeps a possible stand-in free while a duty with few stand-ins lasts, or keeps
/// a helper from a station so that another has time. What the file fixes stays.
std::vector<Steer> next_steps(const Production& production,
                              const Plan& plan,
                              const Survival& survival,
                              const Steer& now,
                              Answers answers);

/// What no plan can beat: the chance that all come whom the file and the answers make irreplaceable
/// in this plan's scenes (the only ones for a part, or for a step of a part's look).
double irreplaceable_chance(const Production& production, const Plan& plan, Answers answers);

}  // namespace gp::absence
