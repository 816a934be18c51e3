#pragma once

#include <string>

// Scheduling problems as the literature keeps them (tests/data/published/README.md), written as
// production files, so that the planner itself is measured on them.

namespace gp::test {

/// Talent scheduling, JSON as in tests/data/published/talent: the best plan's weighted minutes on
/// site are the optimal total cost. Throws std::runtime_error where the text is no such instance.
std::string talent_production(const std::string& json);

/// A job shop in the usual text form (jobs and machines, then a line of machine and duration pairs
/// a job; `#` begins a remark): minutes from the first call to the first shot are the makespan.
/// \param copies   of every job, and places at every station (Nuijten and Aarts 1996)
/// \param helpers  people one of whom must be there for every step; 0: every step stands alone
std::string job_shop_production(const std::string& text, int copies = 1, int helpers = 0);

/// A project in PSPLIB's form (.sm): minutes from the first shot to the wrap are the makespan.
std::string project_production(const std::string& text);

}  // namespace gp::test
