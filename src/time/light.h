#pragma once

#include "base/spans.h"
#include "time/day_clock.h"

#include <vector>

namespace gp {

enum class LightKind { day, golden, dusk, dark };

/// The spans, in order and merged, in which a kind of light holds at a place, from the evening
/// before the day to the morning two days after it: to the whole minute inside the true span, so
/// that nothing planned in them is a second too early or too late. `day`: sunrise to sunset.
/// `golden`: within the hour after sunrise or the hour before sunset; there is no standard for it,
/// the hour is the plan format's own. `dusk`: sunset to the end of civil twilight. `dark`: after
/// that, or before civil dawn. Where the sun does not set there is day without golden or dusk;
/// where it does not rise there may still be dusk (from noon on, to the end of twilight).
/// \param lat  degrees north, -90 .. 90
/// \param lon  degrees east, -180 .. 180
/// Cost: sixteen times sun_event(). Threads: pure. Source: see time/sun.h.
std::vector<Span> light_spans(LightKind kind, const CalendarDay& day, double lat, double lon);

}  // namespace gp
