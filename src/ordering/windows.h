#pragma once

#include "model/day_frame.h"
#include "model/production.h"
#include "time/light.h"

#include <vector>

namespace gp {

/// The light of the sky that a scene's light asks for; `any`: day, though nothing is asked.
LightKind kind_of(Light light);

/// When each scene's shot may stand on one day, start to end, in order: from `first_shot` to
/// `wrap_by`, within `between` or at `at`, in the light it asks for, on the day it is tied to.
/// Every span is long enough for the shot. Empty: not on this day.
Table<SceneId, std::vector<Span>> shot_windows(const Production& production, const DayFrame& frame);

}  // namespace gp
