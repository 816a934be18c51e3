#pragma once

#include "casting/asking.h"
#include "casting/slots.h"
#include "casting/who_can.h"

#include <cstdint>
#include <vector>

namespace gp {

/// The chance that every scene has all its people: each day that has scenes of its own (where there
/// are several days), then the whole production. Who came on a day is seated scene by scene, each
/// in one seat of a scene (matching); a part has one person in all its scenes; a scene that may be
/// filmed on several days needs one on which that works out. A person comes on all the days they
/// are free or on none. For \param slots and \param free the same answers count.
std::vector<WholeChance> whole_chances(const Production& production,
                                       const Slots& slots,
                                       const FreeFor& free,
                                       const std::vector<double>& sure,
                                       double each,
                                       std::uint64_t seed);

}  // namespace gp
