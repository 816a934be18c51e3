#pragma once

#include "base/random.h"
#include "base/stop.h"
#include "ordering/presence.h"

#include <cstdint>
#include <vector>

namespace gp {

struct PresenceOrder {
  std::vector<int> order;
  std::int64_t value = 0;  ///< presence() of it
};

/// A good order, often the best: moves blocks of up to three scenes while that helps, then shakes
/// the best a little and begins again (iterated local search: Lourenço, Martin and Stützle 2003,
/// doi:10.1007/0-306-48056-5_11). Keeps every `before`.
/// \param first    an order to begin from that keeps them
/// \param most     orders tried
/// Same arguments, same order.
PresenceOrder search_presence(const PresenceProblem& problem,
                              const std::vector<int>& first,
                              Random& random,
                              std::uint64_t most,
                              Stop& stop);

}  // namespace gp
