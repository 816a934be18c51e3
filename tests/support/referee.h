#pragma once

#include "model/check.h"
#include "model/price.h"

#include <optional>
#include <set>
#include <string>
#include <vector>

namespace gp::test {

/// What an independent judge says of a plan.
struct Verdict {
  std::string unreadable;  ///< why; empty: it was read
  std::set<int> rules;
  std::vector<std::string> texts;
  std::string cost;  ///< as its JSON text
  Price price;       ///< without first_calls and filmed_days, which the judge does not count
};

/// Plans of one production, as the files' texts.
struct ToJudge {
  std::string production;
  std::vector<std::string> plans;
  Answers answers;
};

/// Where the referee is: $GREASEPAINT_REFEREE, or ../shared/tools/referee beside the sources. None:
/// it is not there (a clone alone), or there is no Python to run it.
std::optional<std::string> referee_path();
/// The places looked at, for saying that it is not there.
std::string referee_places();

/// The verdicts, by case and plan. Runs one process for all. Throws where that fails.
std::vector<std::vector<Verdict>> judge(const std::string& referee,
                                        const std::vector<ToJudge>& cases);

/// A price cut down to what the judge counts.
Price as_judged(Price price);
/// The judge's cost, as its JSON text.
Price judged_price(const std::string& json);

}  // namespace gp::test
