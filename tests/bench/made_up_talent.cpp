#include "bench/made_up_talent.h"

#include "base/random.h"
#include "support/published_instances.h"

#include <vector>

#include <nlohmann/json.hpp>

namespace gp::bench {

std::string made_up_talent(int scenes, int people, std::uint64_t seed) {
  Random random(seed * 1'000'003 + static_cast<std::uint64_t>(scenes) * 101 +
                static_cast<std::uint64_t>(people));
  nlohmann::ordered_json given;
  given["name"] = "made up";
  for (int s = 0; s < scenes; ++s) {
    given["scenes"].push_back({{"duration", random.between(1, 5)}});
  }
  for (int p = 0; p < people; ++p) {
    const auto wanted = static_cast<std::size_t>(random.between(2, scenes));
    std::vector<std::size_t> order(static_cast<std::size_t>(scenes));
    for (std::size_t s = 0; s < order.size(); ++s) order[s] = s;
    random.shuffle(order);
    std::vector<int> plays(order.size(), 0);
    for (std::size_t s = 0; s < wanted; ++s) plays[order[s]] = 1;
    given["actors"].push_back({{"cost", random.between(1, 100)}, {"scenes", plays}});
  }
  return test::talent_production(given.dump());
}

}  // namespace gp::bench
