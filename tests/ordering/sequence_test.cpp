#include "ordering/sequence.h"

#include "base/random.h"
#include "support/seed.h"

#include <algorithm>
#include <vector>

#include <doctest/doctest.h>

using gp::SceneId;

namespace {

/// Scenes with nothing but what they come after.
gp::Production scenes(const std::vector<std::vector<std::size_t>>& after) {
  gp::Production film;
  for (const auto& before : after) {
    gp::Scene scene;
    for (std::size_t one : before) scene.after.emplace_back(one);
    film.scenes.add(scene);
  }
  return film;
}

std::vector<SceneId> ids(const std::vector<std::size_t>& numbers) {
  std::vector<SceneId> list;
  for (std::size_t number : numbers) list.emplace_back(number);
  return list;
}

bool keeps_every_after(const gp::Production& film, const std::vector<SceneId>& order) {
  for (std::size_t i = 0; i < order.size(); ++i) {
    for (SceneId before : film.scenes[order[i]].after) {
      if (std::find(order.begin(), order.begin() + static_cast<std::ptrdiff_t>(i), before) ==
          order.begin() + static_cast<std::ptrdiff_t>(i)) {
        return false;
      }
    }
  }
  return true;
}

}  // namespace

TEST_SUITE("ordering/sequence") {
  TEST_CASE("forerunners come first, and only they move") {
    // 0 comes after 3, 3 after 1.
    const gp::Production film = scenes({{3}, {}, {}, {1}, {}});
    CHECK(gp::forerunners_first(film, ids({4, 0, 2, 1, 3})) == ids({4, 1, 3, 0, 2}));
    CHECK(gp::forerunners_first(film, ids({1, 3, 4, 0, 2})) == ids({1, 3, 4, 0, 2}));
    CHECK(gp::forerunners_first(film, {}).empty());
  }

  TEST_CASE("two forerunners of one scene, and one of two: each stands once") {
    const gp::Production film = scenes({{1, 2}, {3}, {3}, {}});
    const auto order = gp::forerunners_first(film, ids({0, 1, 2, 3}));
    CHECK(order.size() == 4);
    CHECK(keeps_every_after(film, order));
    CHECK(order.back() == SceneId(0));
    CHECK(order.front() == SceneId(3));
  }

  TEST_CASE("any order of any scenes without a circle is mended, and a good one is left alone") {
    gp::Random random(gp::test::seed());
    int mended = 0;
    int left_alone = 0;
    for (int round = 0; round < 2000; ++round) {
      const std::size_t n = 1 + random.index(12);
      // A hidden order makes sure that there is no circle.
      std::vector<std::size_t> rank(n);
      for (std::size_t i = 0; i < n; ++i) rank[i] = i;
      random.shuffle(rank);
      std::vector<std::vector<std::size_t>> after(n);
      for (std::size_t a = 0; a < n; ++a) {
        for (std::size_t b = 0; b < n; ++b) {
          if (rank[a] < rank[b] && random.chance(1, 6)) after[b].push_back(a);
        }
      }
      const gp::Production film = scenes(after);
      std::vector<SceneId> order;
      for (std::size_t i = 0; i < n; ++i) order.emplace_back(i);
      random.shuffle(order);
      CAPTURE(round);
      const auto result = gp::forerunners_first(film, order);
      CHECK(keeps_every_after(film, result));
      CHECK(std::is_permutation(result.begin(), result.end(), order.begin(), order.end()));
      if (keeps_every_after(film, order)) {
        CHECK(result == order);
        ++left_alone;
      } else {
        ++mended;
      }
      CHECK(gp::forerunners_first(film, result) == result);
    }
    CHECK(mended > 500);
    CHECK(left_alone > 200);
  }
}
