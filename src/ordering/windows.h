#pragma once

#include "model/day_frame.h"
#include "model/production.h"

#include <vector>

namespace gp {

/// When each scene's shot may stand on one day, start to end, in order: from `first_shot` to
/// `wrap_by`, within `between` or at `at`, in the light it asks for, on the day it is tied to.
/// Every span is long enough for the shot. Empty: not on this day.
Table<SceneId, std::vector<Span>> shot_windows(const Production& production, const DayFrame& frame);

}  // namespace gp
