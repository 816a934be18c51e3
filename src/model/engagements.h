#pragma once

#include "base/ids.h"
#include "base/spans.h"
#include "model/plan.h"
#include "model/production.h"

#include <map>
#include <string>
#include <vector>

namespace gp {

/// Anything that occupies a person: a scene as cast (shot start to end) or as crew (from the
/// set-up's start), an own step, a step staffed, getting a station ready, a meal.
struct BusyRow {
  Span time;
  PlaceId place;     ///< none: a meal, or somewhere that no place is given for
  std::string what;  ///< for messages: "scene march", "crew of march", "guard on 0" …
};

/// Each person's engagements of one day as the plan says them, by start, then end. A step that its
/// chain does not have and a meal that the day does not have occupy nobody.
/// Cost: O(n log n) in the plan's entries. Threads: pure.
std::map<PersonId, std::vector<BusyRow>> engagements(const Production& production,
                                                     const DayPlan& plan);

/// The step of the production that a planned one stands for; null: its chain has no such step.
const Step* written_step(const Production& production, const PlannedStep& planned);

/// The meal of that name on the day; null: there is none.
const Meal* written_meal(const Production& production, DayId day, const std::string& name);

}  // namespace gp
