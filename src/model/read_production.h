#pragma once

#include "base/fault.h"
#include "model/production.h"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace gp {

/// Whether the people in the file are all there will be.
enum class PeopleListed {
  all,
  /// More may still sign up (or take a promise back): a part that nobody may play yet, or a step
  /// that nobody can do yet, is no fault, but something the plan leaves out and says.
  still_coming,
};

/// A production, or every fault of the file: first those of JSON itself, then of the format, then
/// of sense (ids that dangle, chains nobody can do, …), in the order of the file. Any bytes are
/// safe to give; depth, size and numbers are limited (docs/production-format.md).
std::variant<Production, std::vector<Fault>> read_production(
    std::string_view text, PeopleListed people = PeopleListed::all);

/// The production as its JSON: defaults left out, keys in the order of the format. What
/// read_production reads back is the same production.
std::string write_production(const Production& production);

}  // namespace gp
