#include "bench/small_days.h"

#include "base/random.h"

#include <nlohmann/json.hpp>

namespace gp::bench {

std::string small_day(std::uint64_t seed) {
  using Json = nlohmann::ordered_json;
  Random random(seed * 7919);
  const int scenes = random.between(5, 8);
  const int players = random.between(6, 9);
  Json out = {{"greasepaint", 1},
              {"title", "small day " + std::to_string(seed)},
              {"sign_in_minutes", 5},
              {"round_to", random.chance(1, 2) ? 5 : 1}};
  out["days"] = {{{"date", "2027-06-05"},
                  {"nobody_before", "06:00"},
                  {"first_shot", "10:00"},
                  {"wrap_by", "20:00"}}};
  for (int i = 0; i < 2; ++i) {
    Json look = {{"id", i == 0 ? "moth" : "lantern"},
                 {"steps",
                  {{{"at", "rail"}, {"minutes", random.between(3, 6)}},
                   {{"at", "paint"},
                    {"minutes", random.between(8, 20)},
                    {"by", "paint"},
                    {"then_wait", random.between(0, 5)}}}},
                 {"off", {{{"at", "sinks"}, {"minutes", random.between(4, 8)}}}}};
    out["looks"].push_back(std::move(look));
  }
  for (int i = 0; i < players + 2; ++i) {
    const std::string number = std::to_string(i + 1);
    Json person = {{"id", "friend-" + number}, {"name", "friend " + number}};
    if (i >= players) person["can"] = {"paint"};
    if (random.chance(1, 3)) person["weight"] = random.between(2, 3);
    out["people"].push_back(std::move(person));
    // the first of the two painters plays too, as themselves
    if (i > players) continue;
    Json role = {{"id", "part-" + number}, {"person", "friend-" + number}};
    if (i < players && random.chance(3, 5)) role["look"] = random.chance(1, 2) ? "moth" : "lantern";
    out["roles"].push_back(std::move(role));
  }
  out["stations"] = {
      {{"id", "rail"}, {"places", 2}},
      {{"id", "paint"},
       {"places", 2},
       {"staff",
        {"friend-" + std::to_string(players + 1), "friend-" + std::to_string(players + 2)}}},
      {{"id", "sinks"}, {"places", 2}}};
  for (int s = 0; s < scenes; ++s) {
    Json cast = Json::array();
    for (int i = 0; i <= players; ++i) {
      const bool painter = i == players;
      if (!random.chance(painter ? 1 : 2, 5)) continue;
      cast.push_back({{"role", "part-" + std::to_string(i + 1)}});
    }
    if (cast.empty()) cast.push_back({{"role", "part-1"}});
    out["scenes"].push_back({{"id", "scene-" + std::to_string(s + 1)},
                             {"set_minutes", 5 * random.between(1, 2)},
                             {"shoot_minutes", 5 * random.between(2, 8)},
                             {"cast", std::move(cast)}});
  }
  return out.dump();
}

}  // namespace gp::bench
