#pragma once

#include "base/minutes.h"

#include <cstddef>

// What a production file may hold at most (docs/production-format.md, "Limits"). Wide enough for
// any film made for fun, narrow enough that sums of minutes never overflow and that a file of bad
// faith costs seconds, not hours. The limits of JSON itself: base/json.h.

namespace gp::limits {

inline constexpr std::size_t kDays = 366;
inline constexpr std::size_t kEntries = 5000;  ///< of any other list
inline constexpr std::size_t kCalls = 20'000;  ///< of cast and crew, in all scenes together
inline constexpr std::size_t kIdCharacters = 64;
inline constexpr std::size_t kTagCharacters = 64;
inline constexpr std::size_t kNameCharacters = 200;
inline constexpr std::size_t kNoteCharacters = 2000;
inline constexpr int kMinutes = 1440;      ///< of any length
inline constexpr int kRoundTo = 60;        ///< minutes
inline constexpr int kHeads = 1000;        ///< people, places, seats, of one entry
inline constexpr int kThings = 1'000'000;  ///< of one item
inline constexpr int kWeight = 1000;       ///< weight and worth
inline constexpr int kSize = 10'000;       ///< of a body, in whatever unit its key names
inline constexpr int kFirstYear = 2000;    ///< of a shooting day
inline constexpr int kLastYear = 2099;     ///< the sun's equations hold so far
inline constexpr int kFirstBirthYear = 1900;
inline constexpr std::size_t kFaults = 1000;  ///< listed for one file

}  // namespace gp::limits
