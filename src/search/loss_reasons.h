#pragma once

#include "model/plan.h"
#include "search/builder.h"
#include "search/problem.h"

namespace gp {

/// Writes into the plan why each scene that is not filmed and each head that is missing is so: one
/// plain sentence with the numbers, found by asking the finished draft what stands in the way.
/// \param builder  holds the draft the plan was unloaded from; left as it was
/// \param stop     when it says so, the rest is told in fewer words
void give_reasons(const Problem& problem, Builder& builder, Plan& plan, Stop& stop);

}  // namespace gp
