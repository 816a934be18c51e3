#include "casting/solve_cast.h"

#include "base/random.h"
#include "casting/head_flow.h"
#include "casting/small_castings.h"
#include "support/seed.h"

#include <algorithm>
#include <cstdint>

#include <doctest/doctest.h>

using gp::CastProblem;
using gp::CastSolution;
using gp::test::at;
using gp::test::Everything;
using gp::test::small_casting;

TEST_SUITE("casting/solve_cast") {
  TEST_CASE("crowds and crew for given parts are filled at the least cost there is") {
    gp::Random random(gp::test::seed());
    for (int round = 0; round < 60; ++round) {
      CAPTURE(round);
      CastProblem problem = small_casting(random, false);
      // parts and openings that stand: the first person for each part, the first opening
      for (auto& part : problem.parts) {
        if (part.fixed < 0) part.fixed = 0;
      }
      for (auto& scene : problem.scenes) scene.openings.resize(1);
      CastSolution solution;
      for (const auto& part : problem.parts) solution.part.push_back(part.fixed);
      solution.opening.assign(problem.scenes.size(), 0);
      // a part's place is filled where it can be, which trying everything need not do when two
      // parts are one person's: those are left to the next case
      bool twice = false;
      for (std::size_t r = 0; r < problem.parts.size(); ++r) {
        for (const int other : problem.parts[r].apart) {
          twice = twice || problem.parts[r].fixed == problem.parts[at(other)].fixed;
        }
      }
      if (twice) continue;
      gp::HeadFlow flow(problem);
      flow.fill(solution);
      REQUIRE(gp::cast_right(problem, solution));
      CHECK(solution.cost == Everything(problem).least);
    }
  }

  TEST_CASE("small castings are as good as trying everybody everywhere") {
    gp::Random random(gp::test::seed() + 1);
    int exact = 0;
    constexpr int kRounds = 60;
    for (int round = 0; round < kRounds; ++round) {
      CAPTURE(round);
      const CastProblem problem = small_casting(random, false);
      gp::Stop stop;
      const CastSolution found = gp::solve_cast(problem, {1, 0.02}, stop);
      REQUIRE(gp::cast_right(problem, found));
      CHECK(found.cost == gp::cast_cost(problem, found));
      const std::int64_t least = Everything(problem).least;
      CHECK(found.cost >= least);
      // never a place emptier than need be: wishes are far below what an empty place costs
      CHECK(found.cost - least < 1'000'000);
      if (found.cost == least) ++exact;
    }
    CHECK(exact >= kRounds - 1);
  }

  TEST_CASE("with friends, castings fill as much and lose few wishes") {
    gp::Random random(gp::test::seed() + 2);
    int exact = 0;
    constexpr int kRounds = 40;
    for (int round = 0; round < kRounds; ++round) {
      CAPTURE(round);
      const CastProblem problem = small_casting(random, true);
      gp::Stop stop;
      const CastSolution found = gp::solve_cast(problem, {1, 0.02}, stop);
      REQUIRE(gp::cast_right(problem, found));
      const std::int64_t least = Everything(problem).least;
      CHECK(found.cost >= least);
      CHECK(found.cost - least < 1'000'000);
      if (found.cost == least) ++exact;
    }
    CHECK(exact >= kRounds - 2);
  }

  TEST_CASE("burdens are spread: four heads in two scenes fall on four people") {
    CastProblem problem;
    problem.people = 4;
    problem.groups = 2;
    problem.burden.assign(4, 4);
    problem.friends.resize(4);
    for (int s = 0; s < 2; ++s) {
      CastProblem::Scene scene;
      scene.group = s;
      scene.places.push_back({-1, 2, 1'000'000'000, {0, 0, 0, 0}});
      scene.openings.push_back({0, 0, {{0, 1, 2, 3}}});
      problem.scenes.push_back(scene);
    }
    gp::Stop stop;
    const CastSolution found = gp::solve_cast(problem, {}, stop);
    CHECK(found.cost == 4 * 4);  // four people once each: 4 * 1 * 1
  }

  TEST_CASE("the same problem and seed give the same casting") {
    gp::Random random(gp::test::seed() + 3);
    const CastProblem problem = small_casting(random, true);
    gp::Stop stop;
    const CastSolution one = gp::solve_cast(problem, {7, 0.05}, stop);
    const CastSolution two = gp::solve_cast(problem, {7, 0.05}, stop);
    CHECK(one.filled == two.filled);
    CHECK(one.part == two.part);
  }
}
