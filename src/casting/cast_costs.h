#pragma once

#include <cstdint>

// What things are worth to casting, in points (docs/who.md). Our own choice.

namespace gp::points {

/// An empty place of a crowd or behind the camera. More than all wishes of the largest production
/// together, so that nothing stays empty for a wish.
inline constexpr std::int64_t kEmptyPlace = 1'000'000'000;
/// A scene without one of its parts cannot be filmed: as much as so many heads for each unit of the
/// scene's worth, and these besides.
inline constexpr std::int64_t kPartsHeads = 10;

inline constexpr std::int32_t kBurden = 4;  ///< times weight, times scenes squared
// One wish is worth less than one scene fewer for somebody who is in more than others (8, at weight
// 1): nobody goes without for it.
inline constexpr std::int32_t kLiked = 5;        ///< each scene in a part, crowd or job they like
inline constexpr std::int32_t kFriend = 3;       ///< each scene with each friend they like
inline constexpr std::int32_t kExperienced = 3;  ///< each scene in what they can by name
inline constexpr std::int32_t kMaybe = 5;        ///< each scene of somebody who says maybe
inline constexpr std::int32_t kAsked = 8;        ///< each scene of somebody who has not answered

}  // namespace gp::points
