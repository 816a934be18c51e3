#include "model/ways.h"

#include <algorithm>
#include <utility>

namespace gp {

ShortestWays::ShortestWays(const Production& production, std::vector<PlaceId> places)
    : places_(std::move(places)) {
  std::sort(places_.begin(), places_.end());
  places_.erase(std::unique(places_.begin(), places_.end()), places_.end());
  const std::size_t n = places_.size();
  ways_.assign(n * n, Minutes{0});
  for (std::size_t a = 0; a < n; ++a) {
    for (std::size_t b = 0; b < n; ++b) ways_[a * n + b] = production.way(places_[a], places_[b]);
  }
  for (std::size_t via = 0; via < n; ++via) {
    if (!places_[via].valid()) continue;  // what is nowhere is on no way
    for (std::size_t a = 0; a < n; ++a) {
      for (std::size_t b = 0; b < n; ++b) {
        ways_[a * n + b] = std::min(ways_[a * n + b], ways_[a * n + via] + ways_[via * n + b]);
      }
    }
  }
}

Minutes ShortestWays::longest() const {
  return *std::max_element(ways_.begin(), ways_.end());
}

std::size_t ShortestWays::number(PlaceId place) const {
  return static_cast<std::size_t>(
      std::distance(places_.begin(), std::lower_bound(places_.begin(), places_.end(), place)));
}

}  // namespace gp
