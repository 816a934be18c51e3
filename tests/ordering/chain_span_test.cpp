#include "ordering/chain_span.h"

#include "base/random.h"
#include "support/builder.h"
#include "support/seed.h"

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include <doctest/doctest.h>

using gp::chain_span_bound;
using gp::ChainProblem;
using gp::Random;
using gp::Stop;

namespace {

constexpr std::int64_t kMuch = 300'000'000;

std::int32_t bound_of(const ChainProblem& problem, std::int32_t at_most, std::int64_t work) {
  Stop never;
  return chain_span_bound(problem, at_most, work, never);
}

/// The shortest of all schedules that take the tasks one after the other, each as early as it can
/// be then: among them is one of the shortest there are (active schedules, Sprecher, Kolisch and
/// Drexl 1995, doi:10.1016/0377-2217(93)E0294-8).
class Shortest {
 public:
  explicit Shortest(const ChainProblem& problem) : problem_(problem) {
    next_.assign(problem.chains.size(), 0);
    ready_.assign(problem.chains.size(), 0);
    used_.assign(problem.capacity.size(), std::vector<int>(400, 0));
  }

  std::int32_t minutes() {
    go_on(0);
    return best_;
  }

 private:
  void go_on(std::int32_t until) {
    bool all = true;
    for (std::size_t chain = 0; chain < problem_.chains.size(); ++chain) {
      if (next_[chain] == problem_.chains[chain].size()) continue;
      all = false;
      const auto& task = problem_.chains[chain][next_[chain]];
      std::int32_t start = std::max(ready_[chain], task.not_before);
      while (!fits(task, start)) ++start;
      const std::int32_t ready = ready_[chain];
      take(task, start, 1);
      ++next_[chain];
      ready_[chain] = start + task.minutes + task.then_wait;
      go_on(std::max(until, ready_[chain]));
      ready_[chain] = ready;
      --next_[chain];
      take(task, start, -1);
    }
    if (all) best_ = std::min(best_, until);
  }

  [[nodiscard]] bool fits(const ChainProblem::Task& task, std::int32_t start) const {
    for (const std::size_t resource : task.uses) {
      for (std::int32_t at = start; at < start + task.minutes; ++at) {
        if (used_[resource][static_cast<std::size_t>(at)] == problem_.capacity[resource])
          return false;
      }
    }
    return true;
  }

  void take(const ChainProblem::Task& task, std::int32_t start, int sign) {
    for (const std::size_t resource : task.uses) {
      for (std::int32_t at = start; at < start + task.minutes; ++at) {
        used_[resource][static_cast<std::size_t>(at)] += sign;
      }
    }
  }

  const ChainProblem& problem_;
  std::vector<std::size_t> next_;
  std::vector<std::int32_t> ready_;
  std::vector<std::vector<int>> used_;
  std::int32_t best_ = std::numeric_limits<std::int32_t>::max();
};

/// Up to nine tasks on two sorts of chairs, some with a helper; of some chains several are alike.
ChainProblem any_chains(Random& random) {
  ChainProblem problem;
  problem.capacity = {random.between(1, 2), random.between(1, 2), random.between(1, 2)};
  while (problem.chains.size() < 4) {
    auto& chain = problem.chains.emplace_back();
    const int tasks = random.between(1, problem.chains.size() == 1 ? 3 : 2);
    for (int k = 0; k < tasks; ++k) {
      ChainProblem::Task task;
      task.minutes = random.between(0, 7);
      if (random.chance(1, 3)) task.then_wait = random.between(1, 4);
      if (random.chance(1, 4)) task.not_before = random.between(1, 6);
      task.uses.push_back(static_cast<std::size_t>(random.between(0, 1)));
      if (random.chance(1, 2)) task.uses.push_back(2);
      chain.push_back(std::move(task));
    }
    if (problem.chains.size() < 4 && random.chance(1, 3)) {
      problem.chains.push_back(problem.chains.back());
    }
  }
  return problem;
}

/// A published job shop: per job machine and minutes, in order.
ChainProblem job_shop(const std::string& name) {
  std::istringstream in(gp::test::data_text("published/jobshop/" + name + ".txt"));
  std::size_t jobs = 0, machines = 0;
  in >> jobs >> machines;
  ChainProblem problem;
  problem.capacity.assign(machines, 1);
  for (std::size_t job = 0; job < jobs; ++job) {
    auto& chain = problem.chains.emplace_back();
    for (std::size_t k = 0; k < machines; ++k) {
      std::size_t machine = 0;
      ChainProblem::Task task;
      in >> machine >> task.minutes;
      task.uses.push_back(machine);
      chain.push_back(std::move(task));
    }
  }
  REQUIRE(in);
  return problem;
}

}  // namespace

TEST_SUITE("ordering/chain_span") {
  TEST_CASE("small problems: never above the shortest of all schedules, and proven at it") {
    CAPTURE(gp::test::seed());
    Random random(gp::test::seed());
    int below = 0;
    for (int turn = 0; turn < 300; ++turn) {
      CAPTURE(turn);
      const ChainProblem problem = any_chains(random);
      const std::int32_t best = Shortest(problem).minutes();
      CHECK(bound_of(problem, best, kMuch) == best);
      for (const std::int32_t more : {1, 3, 30}) {
        const std::int32_t bound = bound_of(problem, best + more, kMuch);
        CHECK(bound <= best);
        below += bound < best ? 1 : 0;
      }
      CHECK(bound_of(problem, best, 200) <= best);
    }
    // where what it is asked for can be done, only what follows without trying is known
    CHECK(below < 90);
  }

  TEST_CASE("one chair: it is over when all are, the first's way there and the last's drying") {
    // Three for 10 each, ready at 2, 5 to dry: 2 + 30 + 5. With two chairs two turns: 2 + 20 + 5.
    ChainProblem problem;
    problem.capacity = {1};
    problem.chains.assign(3, {{.minutes = 10, .then_wait = 5, .not_before = 2, .uses = {0}}});
    CHECK(bound_of(problem, 100, kMuch) == 37);
    problem.capacity = {2};
    CHECK(bound_of(problem, 100, kMuch) == 27);
    // what is asked for is the most it says
    CHECK(bound_of(problem, 20, kMuch) == 20);
    CHECK(bound_of(problem, 0, kMuch) == 0);
    CHECK(bound_of(ChainProblem(), 100, kMuch) == 0);
  }

  TEST_CASE("published job shops: the optimum and not a minute less") {
    // Optima: Fisher and Thompson 1963, Lawrence 1984, in tests/data/published/jobshop/optima.tsv
    for (const auto& [name, optimum] : {std::pair("ft06", 55),
                                        std::pair("ft20", 1165),
                                        std::pair("la02", 655),
                                        std::pair("la03", 597),
                                        std::pair("la04", 590),
                                        std::pair("la16", 945),
                                        std::pair("la17", 784)}) {
      CAPTURE(name);
      const ChainProblem problem = job_shop(name);
      CHECK(bound_of(problem, optimum, kMuch) == optimum);
      CHECK(bound_of(problem, optimum + optimum / 10, 20'000'000) <= optimum);
    }
  }

  TEST_CASE("same question, same answer; it ends when asked") {
    const ChainProblem problem = job_shop("ft10");
    CHECK(bound_of(problem, 930, 5'000'000) == bound_of(problem, 930, 5'000'000));
    Stop stop = Stop::after(std::chrono::milliseconds(50));
    const auto start = std::chrono::steady_clock::now();
    CHECK(chain_span_bound(problem, 930, std::int64_t{1} << 60, stop) <= 930);
    CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(5));
  }

  TEST_CASE("two hundred through forty chairs are looked at in little work") {
    ChainProblem problem;
    problem.capacity = {40, 30};
    problem.chains.assign(200, {{.minutes = 5, .uses = {0}}, {.minutes = 20, .uses = {0, 1}}});
    // the helpers: 200 x 20 / 30 = 133.3 after the first 5
    const std::int32_t bound = bound_of(problem, 400, 20'000'000);
    CHECK(bound >= 139);
    CHECK(bound <= 5 + 7 * 20);
  }
}
