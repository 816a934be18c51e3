#pragma once

#include "casting/asking.h"
#include "cli/show_plan.h"
#include "model/production.h"

#include <string>

namespace gp {

/// How sure one wants to be: "95 %", "99.95 %"; as it was asked for, to a thousandth.
std::string wish_text(double sure);
/// "about 84 %": whole per cents, rounded down; "under 1 %"; "sure" for 1.
std::string chance_text(double chance);
/// With how it was found: "about 84 % (exact)", "about 84 % (random days; give or take 1 %)", where
/// the last is two standard errors, rounded up.
std::string chance_text(const Likelihood& likelihood);

/// For people.
std::string show_asking(const Production& production, const Asking& asking, const View& view);
/// Everything, for programs: docs/who.md names the keys.
std::string write_asking(const Production& production, const Asking& asking);

}  // namespace gp
