#include "model/circles.h"

#include "base/random.h"
#include "support/seed.h"

#include <vector>

#include <doctest/doctest.h>

namespace {

using Arrows = std::vector<std::vector<std::size_t>>;

/// reach[i][j]: the least arrows from i to j, one at least; 0: none lead there (Floyd 1962).
Arrows reach(const Arrows& arrows) {
  const std::size_t n = arrows.size();
  Arrows result(n, std::vector<std::size_t>(n, 0));
  for (std::size_t i = 0; i < n; ++i) {
    for (const std::size_t j : arrows[i]) result[i][j] = 1;
  }
  for (std::size_t k = 0; k < n; ++k) {
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j < n; ++j) {
        if (result[i][k] == 0 || result[k][j] == 0) continue;
        const std::size_t way = result[i][k] + result[k][j];
        if (result[i][j] == 0 || way < result[i][j]) result[i][j] = way;
      }
    }
  }
  return result;
}

}  // namespace

TEST_SUITE("model/circles") {
  TEST_CASE("no circle in a chain, one where its ends meet") {
    CHECK(gp::circles({}).empty());
    CHECK(gp::circles({{1}, {2}, {}}).empty());
    CHECK(gp::circles({{1}, {2}, {0}}) == Arrows{{0, 1, 2}});
    CHECK(gp::circles({{}, {1}}) == Arrows{{1}});
  }

  TEST_CASE("the shortest way round from the first of a knot is named") {
    // 0 -> 1 -> 2 -> 0 and 0 -> 2 as a shortcut
    CHECK(gp::circles({{1, 2}, {2}, {0}}) == Arrows{{0, 2}});
    // two knots, the second reached from the first
    CHECK(gp::circles({{1}, {0, 2}, {3}, {2}}) == Arrows{{0, 1}, {2, 3}});
  }

  TEST_CASE("a chain of a hundred thousand is no trouble") {
    Arrows chain(100'000);
    for (std::size_t i = 0; i + 1 < chain.size(); ++i) chain[i] = {i + 1};
    CHECK(gp::circles(chain).empty());
    chain.back() = {0};
    REQUIRE(gp::circles(chain).size() == 1);
    CHECK(gp::circles(chain)[0].size() == chain.size());
  }

  TEST_CASE("random: one circle a knot, real and shortest [brute force]") {
    gp::Random random(gp::test::seed());
    int knots_seen = 0;
    for (int round = 0; round < 3000; ++round) {
      Arrows arrows(1 + random.index(7));
      for (auto& from : arrows) {
        for (std::size_t i = random.below(3); i > 0; --i)
          from.push_back(random.index(arrows.size()));
      }
      const Arrows least = reach(arrows);
      // the knots, by brute force: nodes that reach themselves, told by the first of each
      std::vector<std::size_t> firsts;
      for (std::size_t i = 0; i < arrows.size(); ++i) {
        if (least[i][i] == 0) continue;
        bool first = true;
        for (std::size_t j = 0; j < i; ++j) {
          if (least[i][j] > 0 && least[j][i] > 0) first = false;
        }
        if (first) firsts.push_back(i);
      }
      const auto found = gp::circles(arrows);
      REQUIRE(found.size() == firsts.size());
      for (std::size_t k = 0; k < found.size(); ++k) {
        ++knots_seen;
        REQUIRE(found[k].front() == firsts[k]);
        REQUIRE(found[k].size() == least[firsts[k]][firsts[k]]);
        for (std::size_t i = 0; i < found[k].size(); ++i) {
          REQUIRE(least[found[k][i]][found[k][(i + 1) % found[k].size()]] == 1);
        }
      }
    }
    CHECK(knots_seen > 1000);
  }
}
