#pragma once

#include "model/check.h"
#include "model/plan.h"
#include "model/price.h"
#include "model/production.h"

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace gp::test {

/// A plan, what was done to it, and what our checker says of it.
struct Judged {
  std::string way;  ///< "right" or how it was broken
  std::string plan;
  std::vector<Broken> ours;
  Price price;
};

/// A production with plans of it.
struct Pairs {
  std::string name;  ///< of the case, e.g. its seed
  std::string production;
  Answers answers;
  std::vector<Judged> plans;
};

/// The right plan and the plan broken in every way, or in `most` of the ways, taken by chance. Each
/// is written and read again before our checker sees it, as the referee will see it.
Pairs pairs_of(const std::string& name,
               const std::string& production,
               const Plan& right,
               Answers answers,
               std::uint64_t seed,
               std::size_t most);

/// How often the referee named each rule, and how many plans it was asked about.
struct Agreement {
  std::map<int, int> named;
  std::size_t asked = 0;
  std::vector<std::string> disagreements;  ///< each with both sides' words
};

/// Asks the referee about all; compares the sets of rules and the prices. Where the two differ and
/// $GREASEPAINT_KEEP names a folder, the two files are kept in it.
Agreement compare(const std::string& referee, const std::vector<Pairs>& cases);

}  // namespace gp::test
