#pragma once

#include "model/check.h"
#include "model/plan.h"
#include "model/production.h"

#include <cstddef>

// A plan with one engagement moved and everything else where it was: what the explanations claim of
// a plan is held against check() with these. Written without any of their code.

namespace gp::test {

/// A step at another time, place or helper. A helper who then staffs no step at the station does
/// not get it ready either.
Plan with_step_moved(const Production& film,
                     Plan plan,
                     std::size_t day,
                     std::size_t step,
                     Minute from,
                     int place,
                     PersonId by);
/// A scene with its set-up, its cast and its crew; looks without steps go with it.
Plan with_scene_moved(
    const Production& film, Plan plan, std::size_t day, std::size_t scene, Minutes by);
Plan with_ready_moved(
    const Production& film, Plan plan, std::size_t day, std::size_t ready, Minute from);
/// One entry of a meal in turns, or the whole of one eaten together.
Plan with_meal_moved(
    const Production& film, Plan plan, std::size_t day, std::size_t meal, Minute from);

/// The call of the person on that day; none: they are not called.
std::optional<Minute> call_in(const DayPlan& day, PersonId person);

/// Whether the changed plan keeps every rule, and nobody is called earlier or released later than
/// before.
bool right_all_else(const Production& film,
                    const Plan& before,
                    const Plan& after,
                    std::size_t day,
                    Answers answers = {});

}  // namespace gp::test
