#pragma once

#include "explain/whatif/change.h"
#include "model/check.h"
#include "model/plan.h"
#include "model/production.h"

#include <optional>
#include <vector>

namespace gp::whatif {

/// Every small help that `--best-help` tries, in the order of docs/whatif.md: a chair more at each
/// station that a look needs; one more friend for nothing in particular, for each crowd, each skill
/// and each job (of those who would be the same friend, one); each person whose answer does not
/// count yet; one more of each item in use; each look's chain 5 minutes quicker (10 % where it
/// takes less than 10 minutes), on and off; each station half an hour earlier and later; the five
/// people whose hours press most at their beginning and the five at their end, half an hour each;
/// first shot, wrap and earliest call of each day half an hour either way. \param plan  of the
/// production as it is: whose hours press is seen in it \param only_day  the times of this day
/// alone
std::vector<Change> small_helps(const Production& production,
                                const Plan& plan,
                                Answers answers,
                                std::optional<DayId> only_day = {});

}  // namespace gp::whatif
