#include "casting/cast_anneal.h"

#include "casting/small_castings.h"
#include "casting/solve_cast.h"
#include "support/seed.h"

#include <atomic>
#include <cstdint>
#include <vector>

#include <doctest/doctest.h>

using gp::CastAnneal;
using gp::CastProblem;
using gp::CastSolution;
using gp::test::Everything;
using gp::test::small_casting;

namespace {

/// Parts by a look and crowds at the least cost for them: what casting begins with.
CastSolution begun(const CastProblem& problem) {
  const std::atomic<bool> at_once = true;
  gp::Stop stop(std::nullopt, &at_once);
  return gp::solve_cast(problem, {}, stop);
}

CastSolution annealed(const CastProblem& problem, std::int64_t moves, std::uint64_t seed) {
  CastSolution it = begun(problem);
  gp::Random random(seed);
  gp::Stop stop;
  CastAnneal(problem).better(it, moves, 2, random, stop);
  return it;
}

/// 60 people, 12 scenes with a part and a crowd of eight each, at two moments: at the first, nobody
/// can be in the crowd who would like to, at the second most.
CastProblem larger(bool friends) {
  CastProblem problem;
  problem.people = 60;
  problem.groups = 12;
  problem.burden.assign(60, 4);
  problem.friend_worth = 3;
  for (int p = 0; p < 60; ++p) {
    problem.friends.emplace_back();
    if (friends) problem.friends.back() = {(p * 7 + 1) % 60};
  }
  problem.parts.resize(4);
  for (int s = 0; s < 12; ++s) {
    CastProblem::Scene scene;
    scene.group = s;
    const std::size_t part = gp::test::at(s / 3);
    problem.parts[part].places.emplace_back(s, 0);
    scene.places.push_back({static_cast<int>(part), 1, 20'000'000'000, {}});
    scene.places.push_back({-1, 8, 1'000'000'000, {}});
    for (auto& places : scene.places) {
      for (int p = 0; p < 60; ++p) places.wish.push_back(p % 5 == s % 5 ? -5 : 0);
    }
    for (int o = 0; o < 2; ++o) {
      CastProblem::Opening opening;
      opening.candidates.resize(2);
      for (int p = 0; p < 60; ++p) {
        if ((p + s + 3 * o) % 7 != 0) opening.candidates[0].push_back(p);
        const bool may = o == 0 ? p % 5 != s % 5 : (p + 2 * s) % 7 != 0;
        if (may) opening.candidates[1].push_back(p);
      }
      scene.openings.push_back(opening);
    }
    problem.scenes.push_back(scene);
  }
  for (auto& part : problem.parts) {
    for (int p = 0; p < 60; ++p) part.candidates.push_back(p);
  }
  return problem;
}

}  // namespace

TEST_SUITE("casting/cast_anneal") {
  TEST_CASE("what comes out is right, counted right and never worse than what went in") {
    gp::Random random(gp::test::seed());
    for (int round = 0; round < 200; ++round) {
      CAPTURE(round);
      const CastProblem problem = small_casting(random, round % 2 == 1);
      const CastSolution before = begun(problem);
      REQUIRE(gp::cast_right(problem, before));
      const CastSolution after = annealed(problem, 500, 1);
      REQUIRE(gp::cast_right(problem, after));
      CHECK(after.cost == gp::cast_cost(problem, after));
      CHECK(after.cost <= before.cost);
    }
  }

  TEST_CASE("small castings come near trying everybody everywhere") {
    gp::Random random(gp::test::seed() + 1);
    int exact = 0;
    constexpr int kRounds = 60;
    for (int round = 0; round < kRounds; ++round) {
      CAPTURE(round);
      const CastProblem problem = small_casting(random, round % 2 == 1);
      const CastSolution found = annealed(problem, 3000, 1);
      const std::int64_t least = Everything(problem).least;
      CHECK(found.cost >= least);
      if (found.cost == least) ++exact;
    }
    CHECK(exact >= kRounds - 15);  // so little work finds it mostly: 48 at the least of six seeds
  }

  TEST_CASE("a larger casting gets better, and the same one with the same seed") {
    for (const bool friends : {false, true}) {
      CAPTURE(friends);
      const CastProblem problem = larger(friends);
      const CastSolution before = begun(problem);
      const CastSolution one = annealed(problem, 60'000, 7);
      const CastSolution two = annealed(problem, 60'000, 7);
      CHECK(one.cost < before.cost);
      CHECK(one.part == two.part);
      CHECK(one.opening == two.opening);
      CHECK(one.filled == two.filled);
    }
  }

  TEST_CASE("it stops at the next move when it is asked to, with what it has") {
    const CastProblem problem = larger(true);
    CastSolution it = begun(problem);
    const std::int64_t before = it.cost;
    std::atomic<bool> asked = false;
    gp::Stop stop(std::nullopt, &asked);
    gp::Random random(1);
    int told = 0;
    // half a million moves are between two tellings: it would go on for a while
    CastAnneal(problem).better(it, 10'000'000, 2, random, stop, [&](double, std::int64_t) {
      ++told;
      asked = true;
    });
    CHECK(told == 1);
    CHECK(gp::cast_right(problem, it));
    CHECK(it.cost <= before);
  }

  TEST_CASE("its progress is told while it works, and the whole casting's from first to last") {
    const CastProblem problem = larger(false);
    CastSolution it = begun(problem);
    gp::Random random(1);
    gp::Stop never;
    std::vector<double> shares;
    std::vector<std::int64_t> costs;
    const auto note = [&](double share, std::int64_t cost) {
      CHECK((shares.empty() || share >= shares.back()));
      CHECK((costs.empty() || cost <= costs.back()));
      shares.push_back(share);
      costs.push_back(cost);
    };
    CastAnneal(problem).better(it, 20'000, 2, random, never, note);
    REQUIRE(shares.size() == 20);
    CHECK(shares.front() == 0);
    CHECK(shares.back() == doctest::Approx(0.95));
    CHECK(it.cost <= costs.back());

    shares.clear();
    costs.clear();
    const CastSolution whole = gp::solve_cast(problem, {1, 0.02}, never, note);
    CHECK(shares.size() > 40);  // two rounds of twenty, and each filling
    CHECK(shares.back() > 0.9);
    CHECK(shares.back() <= 1);
    CHECK(costs.back() == whole.cost);
  }

  TEST_CASE("a casting that is stopped meanwhile is right and whole") {
    for (const bool friends : {false, true}) {
      const CastProblem problem = larger(friends);
      // asked at one telling after another: in annealing, in fillings, in what comes after
      for (int last = 1; last < 90; last += 8) {
        CAPTURE(last);
        std::atomic<bool> asked = false;
        gp::Stop stop(std::nullopt, &asked);
        int told = 0;
        const CastSolution it = gp::solve_cast(
            problem, {1, 0.02}, stop, [&](double, std::int64_t) { asked = ++told >= last; });
        CHECK(told <= last + 1);
        REQUIRE(gp::cast_right(problem, it));
        CHECK(it.cost == gp::cast_cost(problem, it));
        CHECK(it.cost < 1'000'000);  // nothing empty
      }
    }
  }
}
