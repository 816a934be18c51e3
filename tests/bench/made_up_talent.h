#pragma once

#include <cstdint>
#include <string>

namespace gp::bench {

/// A made-up talent scheduling problem as a production file: every person is in 2 .. `scenes`
/// scenes drawn evenly, scenes last 1 .. 5 minutes, a minute of a person costs 1 .. 100. The same
/// numbers give the same text everywhere. Source: the random instances ("type 2") of Cheng, Diamond
/// and Lin 1993, JOTA 79:479-492, as told by Garcia de la Banda, Stuckey and Chu 2011, INFORMS J.
/// Comput. 23:120-137 (from memory; an instance of theirs is in tests/data/published/talent).
/// \param scenes  >= 2
/// \param people  >= 1
std::string made_up_talent(int scenes, int people, std::uint64_t seed);

}  // namespace gp::bench
