#pragma once

#include "explain/why/why_day.h"

#include <cstddef>
#include <vector>

namespace gp::why {

/// Another beginning for a step that is right, all else as it is.
struct StepOption {
  Minute from;
  PersonId by;         ///< who does it then; none: it needs nobody
  bool frees = false;  ///< the helper asked about does not do it then
};

struct StepHold {
  std::vector<StepOption> options;  ///< by beginning
  /// What rules out every beginning after the last option, up to the limit, and what the limit is.
  std::vector<WhyCause> causes;
};

/// Why a step cannot begin later.
/// \param step    in the day's steps
/// \param helper  asked about as the one who does it: then somebody else doing it, from its present
///                beginning on, is an option too. None: asked about as the wearer
StepHold hold_of_step(const PlannedDay& day, std::size_t step, PersonId helper);

}  // namespace gp::why
