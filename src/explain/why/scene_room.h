#pragma once

#include "explain/why/why_day.h"

#include <cstddef>

namespace gp::why {

enum class Way { earlier, later };

/// How far a planned scene can be moved that way, minute by minute, and what breaks a minute
/// beyond. Its cast and crew go with it (calls and releases follow), everything else stays.
WhyRoom room_of_scene(const PlannedDay& day, std::size_t scene, Way way);

}  // namespace gp::why
