#pragma once

#include "model/plan.h"
#include "prep/timeline.h"

#include <map>
#include <utility>

namespace gp {

/// Meals of one day while they are gathered: by meal and when it begins.
using MealRows = std::map<std::pair<std::size_t, Minute>, PlannedMeal>;

/// A day of the plan to stand on: with its meals together where the plan has them.
Ground ground_of(const Production& production, const DayFrame& frame, const DayPlan& plan);

/// Puts wears, steps, readied stations and stays into the order of the plan format.
void put_in_order(DayPlan& plan);

/// Adds a person's call, release and sums to a day, and the person to the meals their stay covers.
/// False: nothing to be called for, or no clock shows such a call.
bool add_stay(
    DayPlan& plan, const Ground& ground, PersonId who, const PersonDay& day, MealRows& meals);

/// What occupies each person on a day, from its scenes, steps, readied stations and meals in turns.
std::map<PersonId, PersonDay> days_of_people(const Ground& ground, const DayPlan& plan);

/// Works the calls, releases, sums and meals of a day out anew from its scenes, steps, readied
/// stations and meals in turns. A together meal that a stay no longer covers is not eaten. False:
/// as add_stay() for somebody who has something to do.
bool renew_stays(const Ground& ground, DayPlan& plan);

/// Adds up the totals of the stays of all days; the bound is left as it is.
void renew_totals(const Production& production, Plan& plan);

}  // namespace gp
