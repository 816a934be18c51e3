#include "ordering/linear_program.h"

#include "base/random.h"
#include "support/seed.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <limits>
#include <numeric>
#include <vector>

#include <doctest/doctest.h>

namespace {

constexpr double kNone = gp::LinearProgram::kNone;

double least(const gp::LinearProgram& program) {
  gp::Stop stop;
  return program.least_cost(stop);
}

/// Works to be shared out among as many people, one each: the least sum, by trying every way.
int least_assignment(const std::vector<std::vector<int>>& costs) {
  std::vector<std::size_t> who(costs.size());
  std::iota(who.begin(), who.end(), 0);
  int best = std::numeric_limits<int>::max();
  do {
    int sum = 0;
    for (std::size_t i = 0; i < who.size(); ++i) sum += costs[i][who[i]];
    best = std::min(best, sum);
  } while (std::next_permutation(who.begin(), who.end()));
  return best;
}

/// The same as a program: its best corners are whole (Birkhoff 1946).
gp::LinearProgram assignment(const std::vector<std::vector<int>>& costs) {
  gp::LinearProgram program;
  std::vector<std::vector<gp::LinearProgram::Term>> rows(costs.size()), columns(costs.size());
  for (std::size_t i = 0; i < costs.size(); ++i) {
    for (std::size_t j = 0; j < costs.size(); ++j) {
      const std::size_t column = program.add_column(costs[i][j], 1);
      rows[i].push_back({column, 1});
      columns[j].push_back({column, 1});
    }
  }
  for (const auto& row : rows) program.add_row(1, 1, row);
  for (const auto& column : columns) program.add_row(1, 1, column);
  return program;
}

}  // namespace

TEST_SUITE("ordering/linear_program") {
  TEST_CASE("a published transport problem") {
    // Two canneries, three markets. G. B. Dantzig, Linear Programming and Extensions, 1963, chapter
    // 3.3, with the cost of 90 dollars per case and thousand miles: 153.675 thousand dollars
    // (values from memory).
    constexpr std::array<double, 2> made{350, 600};
    constexpr std::array<double, 3> wanted{325, 300, 275};
    constexpr std::array<std::array<double, 3>, 2> thousand_miles{
        {{2.5, 1.7, 1.8}, {2.5, 1.8, 1.4}}};
    gp::LinearProgram program;
    std::array<std::vector<gp::LinearProgram::Term>, 2> from;
    std::array<std::vector<gp::LinearProgram::Term>, 3> to;
    for (std::size_t i = 0; i < made.size(); ++i) {
      for (std::size_t j = 0; j < wanted.size(); ++j) {
        const auto column = program.add_column(0.09 * thousand_miles[i][j], 1000);
        from[i].push_back({column, 1});
        to[j].push_back({column, 1});
      }
    }
    for (std::size_t i = 0; i < made.size(); ++i) program.add_row(-kNone, made[i], from[i]);
    for (std::size_t j = 0; j < wanted.size(); ++j) program.add_row(wanted[j], kNone, to[j]);
    CHECK(least(program) == doctest::Approx(153.675).epsilon(1e-9));
    CHECK(least(program) <= 153.675);
  }

  TEST_CASE(
      "work shared out: never above the least of all ways, and less than a thousandth below") {
    gp::Random random(gp::test::seed());
    for (int turn = 0; turn < 60; ++turn) {
      CAPTURE(turn);
      std::vector<std::vector<int>> costs(1 + random.index(6));
      for (auto& row : costs) {
        for (std::size_t j = 0; j < costs.size(); ++j) row.push_back(random.between(-20, 200));
      }
      const double best = least_assignment(costs);
      const double bound = least(assignment(costs));
      CHECK(bound <= best);
      CHECK(bound > best - 0.001);
    }
  }

  TEST_CASE("a column named twice in a row counts twice; a column costs no less than at its most") {
    gp::LinearProgram program;
    const auto x = program.add_column(3, 10);
    program.add_row(8, kNone, {{x, 1}, {x, 1}});
    CHECK(least(program) == doctest::Approx(12).epsilon(1e-9));
    program.add_column(-2, 5);  // in no row
    CHECK(least(program) == doctest::Approx(2).epsilon(1e-9));
  }

  TEST_CASE("stopped before it began it says what is true all the same") {
    const gp::LinearProgram program = assignment({{7, 3}, {4, 9}});
    const std::atomic<bool> asked = true;
    gp::Stop stop(std::nullopt, &asked);
    CHECK(program.least_cost(stop) <= 7);
    CHECK(least(program) == doctest::Approx(7).epsilon(1e-9));
  }
}
