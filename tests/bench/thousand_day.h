#pragma once

#include <cstdint>
#include <string>

namespace gp::bench {

/// A made-up crowd day as a production file: a thousand people called "friend 1", "friend 2" …, a
/// face-painting tent of forty chairs, a costume rail, sinks, a dozen scenes of crowds in four
/// colours and one as they are, dancers, a few parts, crew, and lunch in turns. The same seed gives
/// the same text everywhere.
/// \param people  >= 200; the crowds, chairs and helmets are in proportion (1,000: forty chairs)
std::string thousand_day(int people = 1000, std::uint64_t seed = 1);

}  // namespace gp::bench
