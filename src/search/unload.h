#pragma once

#include "model/plan.h"
#include "search/builder.h"
#include "search/problem.h"

namespace gp {

/// The builder's draft as a plan, complete but for the reasons (`why`), the notes and the bound.
Plan unload(const Problem& problem, const Builder& builder);

}  // namespace gp
