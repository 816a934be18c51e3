#pragma once

#include "casting/slots.h"
#include "model/day_frame.h"
#include "model/production.h"
#include "model/ways.h"
#include "prep/staff.h"
#include "search/planner.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

namespace gp {

/// Wherever the scene comes in the order.
inline Minutes least_set_up(const Scene& scene) {
  return scene.set.empty() ? scene.set_minutes : std::min(scene.set_minutes, scene.reset_minutes);
}

/// All that the search asks again and again, worked out once and const from then on.
struct Problem {
  Problem(const Production& film, const Wishes& asked);

  const Production& production;
  Wishes wishes;
  std::vector<DayFrame> days;  ///< those that are planned, in order of date
  Slots slots;
  StaffLists staff;
  ShortestWays ways;  ///< between all places, and none: a day may have no base
  /// Heads counted through all scenes and their slots: where each scene's begin; and how many.
  Table<SceneId, std::size_t> first_head;
  std::size_t heads = 0;
  /// Where those of one slot of a scene begin; after its last slot, where they end.
  [[nodiscard]] std::size_t first_head_of(SceneId scene, std::size_t slot) const {
    std::size_t head = first_head[scene];
    for (std::size_t s = 0; s < slot; ++s) {
      head += static_cast<std::size_t>(slots.of(scene)[s].people);
    }
    return head;
  }
  std::vector<Table<SceneId, std::vector<Span>>> windows;  ///< by day as in `days`
  /// Staffing or scenes with nobody are possible too: a scene is open on a day when it has a
  /// window.
  [[nodiscard]] bool open_on(SceneId scene, std::size_t day) const {
    return !windows[day][scene].empty();
  }
  /// The one day on which the scene is open; none: there are several, or none.
  [[nodiscard]] std::optional<std::size_t> only_day(SceneId scene) const;
  /// Whether they may play the part in that scene, and are free long enough when it can be shot.
  [[nodiscard]] bool could_play(PersonId who, RoleId part, SceneId scene) const;
  /// How many searches run at once.
  [[nodiscard]] std::size_t threads() const {
    return static_cast<std::size_t>(std::clamp(wishes.threads, 1, 64));
  }
  /// Where the chances of one of them begin.
  [[nodiscard]] std::uint64_t seed_of(std::size_t thread, std::uint64_t turn = 0) const {
    return (wishes.seed + (turn << 32U)) * 0x9e3779b97f4a7c15ULL + thread;
  }
};

}  // namespace gp
