#pragma once

#include "sheets/day_facts.h"
#include "web/site.h"

#include <string>

namespace gp {

/// A day of a plan as a section of the template organiser/plan: its picture, and the same in
/// tables.
void add_plan_day(Visit& visit, ViewData& data, const DayFacts& facts, const std::string& key);
/// "3 h 20 min"
std::string length_words(const Visit& visit, std::int64_t minutes);

}  // namespace gp
