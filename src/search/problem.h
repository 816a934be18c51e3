#pragma once

#include "casting/slots.h"
#include "model/day_frame.h"
#include "model/production.h"
#include "prep/staff.h"
#include "search/planner.h"

#include <vector>

namespace gp {

/// All that the search asks again and again, worked out once and const from then on.
struct Problem {
  Problem(const Production& film, const Wishes& asked);

  const Production& production;
  Wishes wishes;
  std::vector<DayFrame> days;  ///< those that are planned, in order of date
  Slots slots;
  StaffLists staff;
  std::vector<Table<SceneId, std::vector<Span>>> windows;  ///< by day as in `days`
  /// Staffing or scenes with nobody are possible too: a scene is open on a day when it has a
  /// window.
  [[nodiscard]] bool open_on(SceneId scene, std::size_t day) const {
    return !windows[day][scene].empty();
  }
};

}  // namespace gp
