#include "search/sketch/resketch.h"

#include "search/sketch/anneal_sketch.h"

#include <algorithm>
#include <limits>

namespace gp {
namespace {

/// Of fewer heads, more of what there is can be built than is worth pencilling.
constexpr std::size_t kFewestHeads = 20;
/// Not tried on more: of a thousand people and 2,200 heads the search without it is known.
constexpr std::size_t kMostHeads = 1'000;
/// Changes of a fresh sketch, for each head and at most.
constexpr std::uint64_t kFreshAHead = 800, kMostFresh = 80'000;
/// How warm it begins: as warm as it takes to change the order, but not so warm that it scatters
/// the many of a crowd day; by heads a scene, in thousandths of a minute, from least to most.
constexpr double kWarmAHead = 1'200'000, kLeastWarm = 20'000, kMostWarm = 150'000;
constexpr double kCold = 3'000;
/// Changes of one nearby, at least and for each head.
constexpr std::uint64_t kLeastNearby = 500, kNearbyAHead = 5;
constexpr Warmth kNearbyWarmth{8'000, 1'000};

}  // namespace

bool Resketch::worth(const Problem& problem) {
  const Production& film = problem.production;
  const std::size_t most = std::numeric_limits<std::int16_t>::max();
  const std::size_t sorts = 4 * film.stations.size() + film.looks.size();
  return film.aim == Aim::least_time && problem.heads >= kFewestHeads &&
         problem.heads <= kMostHeads && film.scenes.size() > 1 && film.scenes.size() * sorts < most;
}

Recipe Resketch::afresh(const Builder& builder,
                        const Recipe& built,
                        std::uint64_t most_work,
                        Random& random,
                        Stop& stop) {
  sketch_.load(builder, built);
  const auto heads = static_cast<double>(ground_.heads.size());
  const double warm = kWarmAHead * static_cast<double>(ground_.scenes.size()) / heads;
  anneal(sketch_,
         std::min(kFreshAHead * ground_.heads.size(), kMostFresh),
         most_work * kCheaper,
         {std::clamp(warm, kLeastWarm, kMostWarm), kCold},
         random,
         stop);
  return sketch_.unload(built);
}

Recipe Resketch::nearby(const Builder& builder, const Recipe& built, Random& random, Stop& stop) {
  sketch_.load(builder, built);
  const std::uint64_t changes = std::max(kLeastNearby, kNearbyAHead * ground_.heads.size());
  anneal(sketch_, changes, std::numeric_limits<std::uint64_t>::max(), kNearbyWarmth, random, stop);
  return sketch_.unload(built);
}

}  // namespace gp
