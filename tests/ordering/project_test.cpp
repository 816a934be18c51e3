#include "ordering/project.h"

#include "base/random.h"
#include "support/seed.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <numeric>
#include <vector>

#include <doctest/doctest.h>

using gp::ProjectProblem;
using gp::ProjectSchedule;
using gp::Random;

namespace {

ProjectProblem random_project(Random& random, std::size_t tasks) {
  ProjectProblem problem;
  problem.capacity = {random.between(1, 3), random.between(1, 4)};
  for (std::size_t task = 0; task < tasks; ++task) {
    problem.minutes.push_back(random.between(1, 9));
    auto& uses = problem.uses.emplace_back();
    for (std::size_t resource = 0; resource < 2; ++resource) {
      if (random.chance(2, 3))
        uses.push_back({resource, random.between(1, problem.capacity[resource])});
    }
    auto& before = problem.before.emplace_back();
    for (std::size_t other = 0; other < task; ++other) {
      if (random.chance(1, 5)) before.push_back(other);
    }
  }
  return problem;
}

void check_right(const ProjectProblem& problem, const ProjectSchedule& schedule) {
  std::int32_t until = 0;
  for (std::size_t task = 0; task < problem.tasks(); ++task) {
    CHECK(schedule.start[task] >= 0);
    until = std::max(until, schedule.start[task] + problem.minutes[task]);
    for (const std::size_t before : problem.before[task]) {
      CHECK(schedule.start[before] + problem.minutes[before] <= schedule.start[task]);
    }
  }
  CHECK(until == schedule.until);
  for (std::size_t resource = 0; resource < problem.capacity.size(); ++resource) {
    for (std::int32_t at = 0; at < until; ++at) {
      int used = 0;
      for (std::size_t task = 0; task < problem.tasks(); ++task) {
        if (schedule.start[task] > at || schedule.start[task] + problem.minutes[task] <= at)
          continue;
        for (const auto& use : problem.uses[task]) {
          if (use.resource == resource) used += use.amount;
        }
      }
      CHECK(used <= problem.capacity[resource]);
    }
  }
}

/// Every order there is: one of them, each task as early as it can, is as early as any schedule
/// (Kolisch 1996, doi:10.1016/0377-2217(95)00357-6).
std::int32_t best_of_all(const ProjectProblem& problem) {
  std::vector<std::size_t> order(problem.tasks());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::int32_t best = std::numeric_limits<std::int32_t>::max();
  do {
    std::vector<char> done(problem.tasks(), 0);
    const bool sound = std::all_of(order.begin(), order.end(), [&](std::size_t task) {
      done[task] = 1;
      return std::all_of(problem.before[task].begin(),
                         problem.before[task].end(),
                         [&](std::size_t before) { return done[before] != 0; });
    });
    if (sound) best = std::min(best, gp::in_turn(problem, order).until);
  } while (std::next_permutation(order.begin(), order.end()));
  return best;
}

}  // namespace

TEST_SUITE("ordering/project") {
  TEST_CASE("six tasks: no order of them ends earlier, and no bound is above it") {
    Random random(gp::test::seed());
    int tight = 0;
    for (int round = 0; round < 60; ++round) {
      INFO("round ", round);
      const ProjectProblem problem = random_project(random, 6);
      gp::Stop stop;
      Random draws(1);
      const ProjectSchedule found = gp::search_project(problem, draws, 3'000, stop);
      check_right(problem, found);
      const std::int32_t best = best_of_all(problem);
      CHECK(found.until == best);
      CHECK(gp::project_bound(problem) <= best);
      if (gp::project_bound(problem) == best) ++tight;
    }
    CHECK(tight > 10);
  }

  TEST_CASE("thirty tasks: right, never below the bound, the same for the same seed") {
    Random random(gp::test::seed());
    for (int round = 0; round < 5; ++round) {
      const ProjectProblem problem = random_project(random, 30);
      gp::Stop stop;
      Random one(7);
      Random other(7);
      const ProjectSchedule found = gp::search_project(problem, one, 1'000, stop);
      check_right(problem, found);
      CHECK(found.until >= gp::project_bound(problem));
      CHECK(gp::search_project(problem, other, 1'000, stop).start == found.start);
    }
  }

  TEST_CASE("by hand: two share the only camera, the third goes on beside them") {
    // 5 and 4 minutes one after the other, 7 besides: 9
    ProjectProblem problem;
    problem.minutes = {5, 4, 7};
    problem.capacity = {1};
    problem.uses = {{{0, 1}}, {{0, 1}}, {}};
    problem.before.resize(3);
    gp::Stop stop;
    Random random(1);
    CHECK(gp::search_project(problem, random, 100, stop).until == 9);
    CHECK(gp::project_bound(problem) == 9);
    // the third only after the first: 5 + 7
    problem.before[2] = {0};
    CHECK(gp::search_project(problem, random, 100, stop).until == 12);
  }

  TEST_CASE("nothing to do takes no time") {
    gp::Stop stop;
    Random random(1);
    CHECK(gp::search_project({}, random, 100, stop).until == 0);
  }
}
