#pragma once

#include "model/production.h"

#include <cstdint>

namespace gp::bench {

struct CastingSize {
  int people = 40;
  int scenes = 8;
  int parts = 6;
  int heads = 8;  ///< of the crowds and the crew of a scene, about
};

/// A made-up production to cast: two days, everybody free on some hours of some, free parts, four
/// crowds in two looks with helmets of two sizes, two jobs; some skills, refusals, sizes and likes.
/// The same size and seed give the same production.
/// \param friends  whether some like to be with others as well
Production made_up_casting(const CastingSize& size, std::uint64_t seed, bool friends);

}  // namespace gp::bench
