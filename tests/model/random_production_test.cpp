#include "support/random_production.h"

#include "model/read_production.h"
#include "support/builder.h"
#include "support/seed.h"

#include <map>
#include <string>
#include <variant>
#include <vector>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using gp::test::ProductionSize;
using gp::test::random_production;

namespace {

/// How often each key comes up, with the lists' names: "scenes.light".
void count_keys(const nlohmann::json& value,
                const std::string& name,
                std::map<std::string, int>& counts) {
  if (value.is_object()) {
    for (const auto& [key, inner] : value.items()) {
      const std::string path = name.empty() ? key : name + "." + key;
      ++counts[path];
      count_keys(inner, path, counts);
    }
  } else if (value.is_array()) {
    for (const auto& inner : value) count_keys(inner, name, counts);
  } else if (name == "scenes.light" || name == "people.answer" || name == "aim") {
    ++counts[name + "=" + value.get<std::string>()];
  } else if (name == "round_to") {
    ++counts[name + "=" + std::to_string(value.get<int>())];
  }
}

}  // namespace

TEST_SUITE("support/random_production") {
  TEST_CASE("every random production is accepted by the reader") {
    for (const ProductionSize& size :
         {ProductionSize::tiny(), ProductionSize::small(), ProductionSize::medium()}) {
      for (std::uint64_t i = 0; i < 300; ++i) {
        const std::uint64_t seed = gp::test::seed() + i;
        CAPTURE(seed);
        CHECK_NOTHROW(gp::test::production_of(random_production(seed, size)));
      }
    }
  }

  TEST_CASE("the same seed gives the same production, another another") {
    const auto size = ProductionSize::small();
    CHECK(random_production(7, size) == random_production(7, size));
    CHECK(random_production(7, size) != random_production(8, size));
  }

  TEST_CASE("everything that bears on a plan comes up") {
    std::map<std::string, int> counts;
    for (std::uint64_t i = 0; i < 300; ++i) {
      count_keys(
          nlohmann::json::parse(random_production(gp::test::seed() + i, ProductionSize::small())),
          "",
          counts);
    }
    const std::vector<std::string> keys = {"zone",
                                           "aim=latest-first-call",
                                           "aim=least-time",
                                           "sign_in_minutes",
                                           "round_to=1",
                                           "round_to=5",
                                           "round_to=10",
                                           "round_to=15",
                                           "days.base",
                                           "days.nobody_before",
                                           "days.first_shot",
                                           "days.wrap_by",
                                           "days.meals.together",
                                           "days.meals.seats",
                                           "places.minutes_to",
                                           "places.lat",
                                           "people.free",
                                           "people.can",
                                           "people.no",
                                           "people.weight",
                                           "people.answer=maybe",
                                           "people.answer=asked",
                                           "people.answer=no",
                                           "people.guardian",
                                           "roles.person",
                                           "roles.crowd",
                                           "roles.look",
                                           "roles.from",
                                           "roles.needs",
                                           "roles.tags",
                                           "looks.tags",
                                           "looks.steps.by",
                                           "looks.steps.then_wait",
                                           "looks.off.at",
                                           "looks.holds_for",
                                           "looks.items",
                                           "stations.place",
                                           "stations.places",
                                           "stations.open",
                                           "stations.staff",
                                           "stations.set_minutes",
                                           "items.count",
                                           "items.instead",
                                           "units.crew",
                                           "scenes.place",
                                           "scenes.unit",
                                           "scenes.set",
                                           "scenes.set_minutes",
                                           "scenes.reset_minutes",
                                           "scenes.cast.people",
                                           "scenes.crew.needs",
                                           "scenes.crew.from",
                                           "scenes.crew.people",
                                           "scenes.props.count",
                                           "scenes.light=day",
                                           "scenes.light=golden",
                                           "scenes.light=dusk",
                                           "scenes.light=dark",
                                           "scenes.between",
                                           "scenes.at",
                                           "scenes.after",
                                           "scenes.day",
                                           "scenes.worth",
                                           "scenes.optional",
                                           "scenes.hazards"};
    for (const std::string& key : keys) {
      CAPTURE(key);
      CHECK(counts[key] >= 5);
    }
  }
}
