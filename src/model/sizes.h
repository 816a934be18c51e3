#pragma once

#include "model/production.h"

#include <optional>
#include <string>
#include <string_view>

// Which sizes an item fits, and whom.

namespace gp {

/// "56-58": the smallest and the largest size, each of at most four digits before the point (or
/// 10000) and three after it. None: anything else. Which is larger is not looked at.
std::optional<SizeRange> parse_size_range(std::string_view text);
/// "56-58"; "57" where both are the same.
std::string format(const SizeRange& range);

/// "head_cm 56-58, shoe 41".
std::string ranges_of(const Item& item);

/// A person of whom a size is not known may well fit: only a known size that is too small or too
/// large says no.
enum class SizeMatch { fits, not_known, does_not };

SizeMatch size_match(const Item& item, const Person& person);
/// The best of the item and what may be worn instead of it.
SizeMatch size_match_or_instead(const Production& production, ItemId item, const Person& person);
/// The worst over what the look is made of.
SizeMatch size_match(const Production& production, const Look& look, const Person& person);
/// As its look; everybody has the size of a role without a look.
SizeMatch size_match(const Production& production, const Role& role, const Person& person);

}  // namespace gp
