#include "search/crowd_order.h"

#include "base/random.h"
#include "search/planner.h"
#include "support/builder.h"

#include <algorithm>
#include <cstdint>
#include <numeric>
#include <string>
#include <vector>

#include <doctest/doctest.h>

namespace {

using gp::SceneId;

/// Six scenes; green and blue crowds, and a part. Numbers of heads by scene.
struct Heads {
  std::vector<int> green, blue, star, minutes;
};

std::string film_of(const Heads& heads) {
  std::string text = R"({"greasepaint": 1, "title": "Crowds",
    "days": [{"date": "2027-04-17", "nobody_before": "06:00", "wrap_by": "23:00"}], "people": [)";
  for (int p = 0; p < 12; ++p) text += R"({"id": "p)" + std::to_string(p) + "\"},";
  text += R"({"id": "ada"}],
    "looks": [{"id": "green"}, {"id": "blue"}],
    "roles": [{"id": "green", "crowd": true, "look": "green"},
              {"id": "blue", "crowd": true, "look": "blue"}, {"id": "star", "person": "ada"}],
    "scenes": [)";
  for (std::size_t s = 0; s < heads.green.size(); ++s) {
    text += (s == 0 ? "" : ",") + std::string(R"({"id": "s)") + std::to_string(s) +
            R"(", "shoot_minutes": )" + std::to_string(heads.minutes[s]) + R"(, "cast": [)";
    std::string rows;
    const auto add = [&](const char* role, int people) {
      if (people == 0) return;
      rows += (rows.empty() ? "" : ",") + std::string(R"({"role": ")") + role + R"(", "people": )" +
              std::to_string(people) + "}";
    };
    add("green", heads.green[s]);
    add("blue", heads.blue[s]);
    if (heads.star[s] != 0) rows += (rows.empty() ? "" : ",") + std::string(R"({"role": "star"})");
    text += rows + "]}";
  }
  return text + "]}";
}

/// Head by head, minute by minute: the k-th of a crowd is in every scene that needs k or more.
std::int64_t by_counting(const Heads& heads, const std::vector<std::size_t>& order) {
  std::int64_t sum = 0;
  for (const auto* crowd : {&heads.green, &heads.blue, &heads.star}) {
    for (int head = 1; head <= *std::max_element(crowd->begin(), crowd->end()); ++head) {
      std::int64_t now = 0;
      std::int64_t from = -1;
      std::int64_t until = 0;
      for (const std::size_t scene : order) {
        const std::int64_t end = now + heads.minutes[scene];
        if ((*crowd)[scene] >= head) {
          if (from < 0) from = now;
          until = end;
        }
        now = end;
      }
      sum += until - from;
    }
  }
  return sum * 1000;
}

Heads random_heads(gp::Random& random) {
  Heads heads;
  for (int s = 0; s < 6; ++s) {
    heads.green.push_back(random.chance(1, 3) ? 0 : random.between(1, 6));
    heads.blue.push_back(random.chance(1, 3) ? 0 : random.between(1, 6));
    heads.star.push_back(random.chance(1, 2) ? 1 : 0);
    if (heads.green.back() + heads.blue.back() + heads.star.back() == 0) heads.star.back() = 1;
    heads.minutes.push_back(random.between(5, 40));
  }
  return heads;
}

}  // namespace

TEST_CASE("crowds are kept as long as counting each head says, and no order keeps them less") {
  for (std::uint64_t seed = 1; seed <= 30; ++seed) {
    CAPTURE(seed);
    gp::Random random(seed);
    const Heads heads = random_heads(random);
    const gp::Production film = gp::test::production_of(film_of(heads));
    const gp::Problem problem(film, gp::Wishes{});
    const gp::Recipe first = gp::first_recipe(problem);
    const gp::CrowdPresence crowds(problem, first);
    REQUIRE(crowds.known());
    gp::BuiltTimes times(film.scenes.size());
    std::vector<std::size_t> order(film.scenes.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::int64_t least = by_counting(heads, order);
    do {
      const std::vector<SceneId> scenes = [&] {
        std::vector<SceneId> ids;
        for (const std::size_t scene : order) ids.emplace_back(scene);
        return ids;
      }();
      const std::int64_t counted = by_counting(heads, order);
      least = std::min(least, counted);
      REQUIRE(crowds.of(scenes, times) == counted);
    } while (std::next_permutation(order.begin(), order.end()));
    gp::Stop stop;
    CHECK(crowds.of(crowds.good_order(stop), times) == least);
  }
}

TEST_CASE("scenes that share a crowd come together, and after keeps its place") {
  Heads heads{{9, 0, 9, 0, 9, 0}, {0, 9, 0, 9, 0, 9}, {0, 0, 0, 0, 0, 0}, {30, 30, 30, 30, 30, 30}};
  std::string text = film_of(heads);
  const std::string last = R"("id": "s5", )";
  text.replace(text.find(last), last.size(), R"("id": "s5", "after": ["s0"], )");
  const gp::Production film = gp::test::production_of(text);
  gp::Wishes wishes;
  wishes.effort = 0.01;
  const gp::Problem problem(film, wishes);
  const gp::CrowdPresence crowds(problem, gp::first_recipe(problem));
  gp::Stop stop;
  const auto order = crowds.good_order(stop);
  const auto at = [&](std::size_t scene) {
    return std::find(order.begin(), order.end(), SceneId(scene)) - order.begin();
  };
  // both crowds 90 minutes each and nobody waits, for one comes when the other goes
  CHECK(crowds.of(order, gp::BuiltTimes(film.scenes.size())) == 2 * 9 * 90 * 1000);
  CHECK(at(0) < at(5));
}

TEST_CASE("an hour that only one scene keeps puts the others before or after it") {
  const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "Hours",
    "days": [{"date": "2027-04-17"}, {"date": "2027-04-18"}], "people": [{"id": "ada"}],
    "roles": [{"id": "star", "person": "ada"}],
    "scenes": [{"id": "late", "shoot_minutes": 10, "cast": [{"role": "star"}], "day": "2027-04-18"},
               {"id": "noon", "shoot_minutes": 10, "cast": [{"role": "star"}], "at": "12:00",
                "day": "2027-04-17"},
               {"id": "early", "shoot_minutes": 10, "cast": [{"role": "star"}],
                "between": "08:00-12:05", "day": "2027-04-17"}]})");
  const gp::Problem problem(film, gp::Wishes{});
  const gp::CrowdPresence crowds(problem, gp::first_recipe(problem));
  gp::Stop stop;
  CHECK(crowds.good_order(stop) == std::vector<SceneId>{SceneId(2), SceneId(1), SceneId(0)});
}

TEST_CASE("two scenes have no order to look for") {
  const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "Two",
    "days": [{"date": "2027-04-17"}], "scenes": [{"id": "a"}, {"id": "b"}]})");
  const gp::Problem problem(film, gp::Wishes{});
  CHECK_FALSE(gp::CrowdPresence(problem, gp::first_recipe(problem)).known());
}
