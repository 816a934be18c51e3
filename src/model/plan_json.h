#pragma once

#include "base/fault.h"
#include "model/plan.h"
#include "model/production.h"

#include <string>
#include <variant>
#include <vector>

namespace gp {

/// The plan as its JSON, keys in the order of docs/plan-format.md, a row of a list a line, ending
/// in a newline. Same plan, same bytes.
std::string write_plan(const Production& production, const Plan& plan);

/// A plan read back, or every fault of the file. Accepts exactly what write_plan writes and what
/// people write by hand after the format; ids that the production does not have are faults.
std::variant<Plan, std::vector<Fault>> read_plan(const std::string& text,
                                                 const Production& production);

}  // namespace gp
