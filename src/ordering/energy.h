#pragma once

#include "ordering/chain_windows.h"

#include <cstdint>
#include <vector>

namespace gp {

/// Two ways of telling what cannot be on one resource. Each narrows the spans where it can; false:
/// the tasks cannot all be done in their spans.

/// One task at a time: edge-finding, and what of two tasks must be first.
/// \param work  less by the tasks looked at, O(n³)
bool narrow_one_at_a_time(std::vector<ChainWindows::Span>& spans, std::int64_t& work);

/// Up to `capacity` tasks at once: energetic reasoning.
/// \param work  less by the tasks looked at: O(n³) up to some 40 tasks, with more tasks O(n), for
///              then not every stretch of time is looked at
bool narrow_by_energy(std::vector<ChainWindows::Span>& spans,
                      std::int32_t capacity,
                      std::int64_t& work);

}  // namespace gp
