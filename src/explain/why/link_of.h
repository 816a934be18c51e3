#pragma once

#include "explain/why/why_day.h"

#include <optional>
#include <utility>
#include <vector>

namespace gp::why {

/// What is found out about one engagement.
struct LinkFound {
  WhyLink link;
  /// The engagements of the person asked about, with this one moved or done by somebody else in
  /// every way that is right, all else as it is.
  std::vector<Rows> otherwise;
  /// What it must be done for: the next link, and whose it is. None: the chain ends here.
  std::optional<std::pair<PersonId, Row>> next;
};

/// \param about  the person asked about
/// \param whose  whose engagement the row is: theirs, or of somebody they prepare
LinkFound link_of(const PlannedDay& day, PersonId about, PersonId whose, const Row& row);

}  // namespace gp::why
