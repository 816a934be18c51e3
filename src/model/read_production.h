#pragma once

#include "base/fault.h"
#include "model/production.h"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace gp {

/// A production, or every fault of the file: first those of JSON itself, then of the format, then
/// of sense (ids that dangle, chains nobody can do, …), in the order of the file. Any bytes are
/// safe to give; depth, size and numbers are limited (docs/production-format.md).
std::variant<Production, std::vector<Fault>> read_production(std::string_view text);

/// The production as its JSON: defaults left out, keys in the order of the format. What
/// read_production reads back is the same production.
std::string write_production(const Production& production);

}  // namespace gp
