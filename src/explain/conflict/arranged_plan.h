#pragma once

#include "explain/conflict/ground.h"
#include "explain/conflict/shot_search.h"
#include "model/plan.h"

#include <vector>

namespace gp::conflict {

/// The plan that films this one scene so, without meals; calls, releases and sums are counted.
Plan arranged_plan(const DayGround& ground,
                   const Arrangement& arranged,
                   const std::vector<std::vector<ItemId>>& items);

/// Everybody's call, release and sums anew from the plan's engagements.
void count_stays(const Production& film, Plan& plan);

/// Adds the meals of the day where there is a time for each; false: none was found (which proves
/// nothing). \param held  the times of those together, where they are settled; null: they are not
bool add_meals(const DayGround& ground, const HeldMeals* held, Plan& plan);

}  // namespace gp::conflict
