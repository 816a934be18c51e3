#include "ordering/presence.h"

#include "base/random.h"
#include "ordering/presence_bound.h"
#include "ordering/presence_comings.h"
#include "ordering/presence_exact.h"
#include "ordering/presence_search.h"
#include "support/seed.h"

#include <algorithm>
#include <atomic>
#include <limits>
#include <numeric>
#include <optional>
#include <vector>

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("ordering/presence");

using gp::PresenceProblem;

namespace {

/// Made-up problems like those that de la Banda, Stuckey and Chu 2011 print: everyone in some
/// random scenes.
PresenceProblem made_up(gp::Random& random, int most_scenes, int most_people, bool ordered) {
  const auto scenes = static_cast<std::size_t>(random.between(1, most_scenes));
  const auto people = static_cast<std::size_t>(random.between(1, most_people));
  PresenceProblem problem;
  for (std::size_t i = 0; i < scenes; ++i) {
    problem.minutes.push_back(random.between(0, 5));
    problem.cast.push_back(0);
    problem.before.push_back(0);
    problem.unpaid.push_back(0);
  }
  for (std::size_t i = 0; i < people; ++i) {
    problem.weight.push_back(random.between(0, 9));
    const auto share = static_cast<std::uint32_t>(random.between(1, 9));
    for (std::size_t scene = 0; scene < scenes; ++scene) {
      if (random.chance(share, 10)) problem.cast[scene] |= gp::PeopleSet{1} << i;
      if (ordered && random.chance(1, 5)) problem.unpaid[scene] |= gp::PeopleSet{1} << i;
    }
  }
  if (ordered) {
    // scenes come after scenes of a smaller number alone: no circles
    for (std::size_t scene = 1; scene < scenes; ++scene) {
      if (random.chance(1, 3)) problem.before[scene] |= gp::SceneSet{1} << random.index(scene);
    }
  }
  return problem;
}

/// The least presence by dynamic programming over all sets of scenes filmed, as the instances'
/// makers count it: nothing of the method under test is in it.
std::int64_t least_by_all_sets(const PresenceProblem& problem) {
  const std::size_t size = problem.scenes();
  const std::size_t all = (std::size_t{1} << size) - 1;
  std::vector<gp::PeopleSet> people(all + 1, 0);
  for (std::size_t set = 1; set <= all; ++set) {
    for (std::size_t scene = 0; scene < size; ++scene) {
      if ((set >> scene & 1U) != 0) people[set] |= problem.cast[scene];
    }
  }
  constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 2;
  std::vector<std::int64_t> least(all + 1, kFar);
  least[0] = 0;
  for (std::size_t done = 0; done < all; ++done) {
    if (least[done] >= kFar) continue;
    for (std::size_t scene = 0; scene < size; ++scene) {
      if ((done >> scene & 1U) != 0 || (problem.before[scene] & ~done) != 0) continue;
      const std::size_t next = done | std::size_t{1} << scene;
      const gp::PeopleSet there =
          problem.cast[scene] | (people[done] & people[all ^ next] & ~problem.unpaid[scene]);
      std::int64_t weight = 0;
      for (std::size_t person = 0; person < problem.people(); ++person) {
        if ((there >> person & 1U) != 0) weight += problem.weight[person];
      }
      least[next] = std::min(least[next], least[done] + problem.minutes[scene] * weight);
    }
  }
  return least[all];
}

std::vector<int> as_listed(const PresenceProblem& problem) {
  std::vector<int> order(problem.scenes());
  std::iota(order.begin(), order.end(), 0);
  return order;
}

/// Any gap whose middle is all of the problem's scenes.
gp::PresenceGap any_gap(gp::Random& random, const PresenceProblem& problem) {
  const auto everyone = (gp::PeopleSet{1} << problem.people()) - 1;
  gp::PresenceGap gap;
  gap.middle = (gp::SceneSet{1} << problem.scenes()) - 1;
  // a quarter on each side: most come or leave in the middle, or both
  gap.left = random.next() & random.next() & everyone;
  gap.right = random.next() & random.next() & everyone;
  return gap;
}

/// The gap as a problem of its own: one scene before and one after the middle, without length, that
/// hold those who have appeared and those who will.
PresenceProblem with_ends(const PresenceProblem& problem, const gp::PresenceGap& gap) {
  const std::size_t size = problem.scenes();
  PresenceProblem whole = problem;
  whole.minutes.insert(whole.minutes.end(), {0, 0});
  whole.cast.insert(whole.cast.end(), {gap.left, gap.right});
  whole.unpaid.insert(whole.unpaid.end(), {0, 0});
  for (gp::SceneSet& before : whole.before) before |= gp::SceneSet{1} << size;
  whole.before.push_back(0);
  whole.before.push_back((gp::SceneSet{1} << size) - 1);
  return whole;
}

/// A gap, those in its middle, and what they wait there in the best order.
struct Waiting {
  gp::PresenceGap gap;
  gp::PeopleSet people = 0;
  std::int64_t least = 0;
};

Waiting any_waiting(gp::Random& random, const PresenceProblem& problem) {
  const gp::PresenceGap gap = any_gap(random, problem);
  const gp::PresenceBound bound(problem);
  return {gap,
          bound.people_of(gap.middle),
          least_by_all_sets(with_ends(problem, gap)) - bound.certain(gap)};
}

bool keeps_before(const PresenceProblem& problem, const std::vector<int>& order) {
  gp::SceneSet done = 0;
  for (const int scene : order) {
    if ((problem.before[static_cast<std::size_t>(scene)] & ~done) != 0) return false;
    done |= gp::SceneSet{1} << scene;
  }
  return done ==
         (problem.scenes() == 64 ? ~gp::SceneSet{0} : (gp::SceneSet{1} << problem.scenes()) - 1);
}

}  // namespace

TEST_CASE("everyone is counted from their first scene to their last") {
  // scenes of 10, 20, 30 minutes; ana (weight 2) in the first and third, bo (1) in the second:
  // in that order ana 60 × 2 + bo 20 × 1 = 140; second, first, third: ana 40 × 2 + 20 = 100
  const PresenceProblem problem{{10, 20, 30}, {2, 1}, {0b01, 0b10, 0b01}, {0, 0, 0}, {0, 0, 0}};
  CHECK(gp::presence(problem, {0, 1, 2}) == 140);
  CHECK(gp::presence(problem, {1, 0, 2}) == 100);
  CHECK(gp::presence(problem, {}) == 0);
  // ana is of use in the second scene: in the first order her 20 minutes there cost nothing
  const PresenceProblem of_use{{10, 20, 30}, {2, 1}, {0b01, 0b10, 0b01}, {0, 0, 0}, {0, 0b01, 0}};
  CHECK(gp::presence(of_use, {0, 1, 2}) == 100);
}

TEST_CASE("scenes with the same people become one, those with nobody go last, the price stays") {
  const PresenceProblem problem{
      {10, 20, 30, 5}, {2, 1}, {0b01, 0b10, 0b01, 0}, {0, 0, 0, 0}, {0, 0, 0, 0}};
  const gp::ReducedPresence less = gp::reduced(problem);
  CHECK(less.problem.minutes == std::vector<std::int64_t>{40, 20});
  CHECK(less.nobody == std::vector<int>{3});
  CHECK(less.original({1, 0}) == std::vector<int>{1, 0, 2, 3});
  CHECK(gp::presence(problem, less.original({1, 0})) == gp::presence(less.problem, {1, 0}));
}

TEST_CASE(
    "[brute force] the exact order is the best of all, with and without scenes in order and people "
    "of use") {
  CAPTURE(gp::test::seed());
  gp::Random random(gp::test::seed());
  for (int round = 0; round < 400; ++round) {
    CAPTURE(round);
    const PresenceProblem problem = made_up(random, 10, 9, round % 2 == 1);
    const std::int64_t least = least_by_all_sets(problem);
    const gp::ReducedPresence less = gp::reduced(problem);
    const auto first = as_listed(less.problem);
    REQUIRE(keeps_before(less.problem, first));
    gp::Stop stop;
    // from an order as bad as the file's, so that the search has to find the best itself
    const auto exact = gp::exact_presence(
        less.problem, {first, gp::presence(less.problem, first)}, 1'000'000, stop);
    CHECK(exact.proven());
    CHECK(exact.best.value == least);
    const auto order = less.original(exact.best.order);
    CHECK(gp::presence(problem, order) == least);
    CHECK(keeps_before(problem, order));
  }
}

TEST_CASE("[brute force] larger ones, where scenes wait between both ends") {
  gp::Random random(gp::test::seed() + 1);
  for (int round = 0; round < 25; ++round) {
    CAPTURE(round);
    const PresenceProblem problem = made_up(random, 14, 11, round % 3 == 2);
    const gp::ReducedPresence less = gp::reduced(problem);
    gp::Stop stop;
    const auto found =
        gp::search_presence(less.problem, as_listed(less.problem), random, 2'000, stop);
    CHECK(found.value == gp::presence(less.problem, found.order));
    CHECK(keeps_before(less.problem, found.order));
    const auto exact = gp::exact_presence(less.problem, found, 1'000'000, stop);
    CHECK(exact.proven());
    CHECK(exact.best.value == least_by_all_sets(problem));
  }
}

TEST_CASE("[brute force] no bound of a gap is above its best middle") {
  gp::Random random(gp::test::seed() + 2);
  for (int round = 0; round < 200; ++round) {
    CAPTURE(round);
    PresenceProblem problem = made_up(random, 8, 8, round % 2 == 1);
    problem.before.assign(problem.scenes(), 0);
    const gp::PresenceGap gap = any_gap(random, problem);
    const gp::PresenceBound bound(problem);
    const std::int64_t least = bound(gap, bound.people_of(gap.middle));
    CHECK(least <= least_by_all_sets(with_ends(problem, gap)));
    CHECK(bound.certain(gap) <= least);
  }
}

TEST_CASE("[brute force] comings and leavings never reach more than the best middle waits") {
  CAPTURE(gp::test::seed());
  gp::Random random(gp::test::seed() + 4);
  int reached = 0;
  for (int round = 0; round < 300; ++round) {
    CAPTURE(round);
    // more people than it takes at once, people of use, scenes in order, scenes without length
    const PresenceProblem problem = made_up(random, 9, 10, round % 2 == 1);
    const auto [gap, people, waiting] = any_waiting(random, problem);
    gp::ComingsBound comings(problem);
    gp::Stop stop;
    CHECK_FALSE(comings.reaches(gap, people, waiting + 1, stop));
    if (comings.reaches(gap, people, waiting, stop)) ++reached;
  }
  CHECK(reached > 100);
}

TEST_CASE("[brute force] of up to six people comings and leavings tell the waiting to the minute") {
  CAPTURE(gp::test::seed());
  gp::Random random(gp::test::seed() + 5);
  int waited = 0;
  for (int round = 0; round < 200; ++round) {
    CAPTURE(round);
    PresenceProblem problem = made_up(random, 9, 6, false);
    for (std::int64_t& minutes : problem.minutes) ++minutes;
    const auto [gap, people, waiting] = any_waiting(random, problem);
    gp::ComingsBound comings(problem);
    gp::Stop stop;
    CHECK(comings.reaches(gap, people, waiting, stop));
    CHECK_FALSE(comings.reaches(gap, people, waiting + 1, stop));
    if (waiting > 0) ++waited;
  }
  CHECK(waited > 10);  // 31 to 49 with sixteen seeds
}

TEST_CASE("a request to stop is heard in the middle of a bound") {
  gp::Random random(gp::test::seed() + 6);
  const PresenceProblem problem = made_up(random, 10, 9, false);
  const gp::PresenceGap gap = any_gap(random, problem);
  const gp::PresenceBound bound(problem);
  gp::ComingsBound comings(problem);
  const std::atomic<bool> requested{true};
  gp::Stop stop(std::nullopt, &requested);
  // so much is never reached but by looking at all lines
  CHECK_FALSE(comings.reaches(gap, bound.people_of(gap.middle), 1'000'000, stop));
  CHECK(comings.steps() <= 3);
}

TEST_CASE("a film of forty scenes and twelve people is proven, the same each time") {
  // as the random instances of Cheng, Diamond and Lin 1993 (JOTA 79:479-492) are drawn: everyone in
  // two to all scenes, 1 to 5 minutes, weights 1 to 100. 20,000 gaps take well under a second; the
  // search without the bound by comings and leavings needed more than a million.
  gp::Random random(40 * 101 + 12 + 1'000'003);
  PresenceProblem problem;
  problem.cast.assign(40, 0);
  problem.before.assign(40, 0);
  problem.unpaid.assign(40, 0);
  for (int scene = 0; scene < 40; ++scene) problem.minutes.push_back(random.between(1, 5));
  for (int person = 0; person < 12; ++person) {
    const auto scenes = static_cast<std::size_t>(random.between(2, 40));
    std::vector<std::size_t> order(40);
    std::iota(order.begin(), order.end(), std::size_t{0});
    random.shuffle(order);
    for (std::size_t i = 0; i < scenes; ++i) {
      problem.cast[order[i]] |= gp::PeopleSet{1} << person;
    }
    problem.weight.push_back(random.between(1, 100));
  }
  const gp::ReducedPresence less = gp::reduced(problem);
  const auto solve = [&] {
    gp::Stop stop;
    gp::Random shakes(1);
    const auto start =
        gp::search_presence(less.problem, as_listed(less.problem), shakes, 200'000, stop);
    return gp::exact_presence(less.problem, start, 100'000, stop);
  };
  const auto first = solve();
  CHECK(first.proven());
  CHECK(first.nodes < 20'000);
  CHECK(gp::presence(less.problem, first.best.order) == first.best.value);
  const auto again = solve();
  CHECK(again.best.order == first.best.order);
  CHECK(again.nodes == first.nodes);
}

TEST_CASE("cut short, the bound is still below and the order still whole") {
  gp::Random random(gp::test::seed() + 3);
  for (int round = 0; round < 40; ++round) {
    CAPTURE(round);
    const PresenceProblem problem = made_up(random, 12, 10, false);
    const gp::ReducedPresence less = gp::reduced(problem);
    const auto first = as_listed(less.problem);
    gp::Stop stop;
    const auto exact = gp::exact_presence(less.problem,
                                          {first, gp::presence(less.problem, first)},
                                          static_cast<std::uint64_t>(round) * 5,
                                          stop);
    const std::int64_t least = least_by_all_sets(problem);
    CHECK(exact.bound <= least);
    CHECK(exact.best.value >= least);
    CHECK(keeps_before(less.problem, exact.best.order));
  }
}

TEST_SUITE_END();
