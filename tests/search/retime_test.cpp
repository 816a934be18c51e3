// Steps moved round a finished plan: the graph against longest paths worked out naively, the search
// against every order there is, and whole plans against the checker.
#include "search/retime/retime.h"

#include "model/check.h"
#include "model/price.h"
#include "search/planner.h"
#include "search/retime/changes.h"
#include "search/retime/pools.h"
#include "search/retime/tabu.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"
#include "support/slow_build.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <numeric>
#include <vector>

#include <doctest/doctest.h>

using gp::Random;
using gp::RetimeAim;
using gp::RetimeChange;
using gp::RetimeGraph;
using gp::RetimeNode;

namespace {

/// When all must be done: a moment of a day, as in real ones, where 0 is long before.
constexpr std::int32_t kEnd = 4000;

/// A job shop: jobs, each a chain of steps at machines; `places` chairs a machine, `helpers` one of
/// whom is there for every step (0: none needed).
struct Shop {
  std::vector<std::vector<std::pair<int, int>>> jobs;  ///< (machine, minutes)
  int machines = 0;
  int places = 1;
  int helpers = 0;
};

struct Loaded {
  RetimeGraph graph;
  RetimeAim aim;
};

Loaded load(const Shop& shop) {
  const auto jobs = shop.jobs.size();
  const auto helper = [&](std::size_t i) { return static_cast<std::int32_t>(jobs + i); };
  const auto chair = [&](int machine, int place) {
    return static_cast<std::int32_t>(jobs) + shop.helpers + machine * shop.places + place;
  };
  std::vector<RetimeNode> nodes;
  std::vector<std::vector<std::size_t>> queues(
      jobs + static_cast<std::size_t>(shop.helpers + shop.machines * shop.places));
  // stage by stage: an order without circles
  std::vector<std::vector<std::size_t>> of(jobs);
  for (std::size_t stage = 0; stage < shop.jobs.front().size(); ++stage) {
    for (std::size_t job = 0; job < jobs; ++job) {
      RetimeNode node;
      const auto [machine, minutes] = shop.jobs[job][stage];
      node.length = minutes;
      node.hi = kEnd;
      node.queue = {static_cast<std::int32_t>(job), -1, chair(machine, 0)};
      for (int k = 0; shop.places > 1 && k < shop.places; ++k)
        node.chairs.push_back(chair(machine, k));
      if (shop.helpers > 0) {
        node.queue[1] = helper(nodes.size() % static_cast<std::size_t>(shop.helpers));
        for (std::size_t h = 0; h < static_cast<std::size_t>(shop.helpers); ++h)
          node.helpers.push_back(helper(h));
      }
      for (const std::int32_t queue : node.queue) {
        if (queue >= 0) queues[static_cast<std::size_t>(queue)].push_back(nodes.size());
      }
      if (stage > 0) nodes[of[job].back()].next.push_back({nodes.size(), 0});
      of[job].push_back(nodes.size());
      nodes.push_back(node);
    }
  }
  RetimeAim aim;
  for (std::size_t job = 0; job < jobs; ++job) {
    aim.people.push_back({static_cast<std::int32_t>(job), 1000});
  }
  aim.first_call_first = true;
  aim.call = [](std::int32_t start, std::int32_t) { return start; };
  return {RetimeGraph(nodes, queues, {}), aim};
}

Shop random_shop(Random& random, int jobs, int machines, int places, int helpers) {
  Shop shop;
  shop.machines = machines;
  shop.places = places;
  shop.helpers = helpers;
  std::vector<int> order(static_cast<std::size_t>(machines));
  std::iota(order.begin(), order.end(), 0);
  for (int job = 0; job < jobs; ++job) {
    random.shuffle(order);
    auto& steps = shop.jobs.emplace_back();
    for (const int machine : order) steps.emplace_back(machine, random.between(1, 20));
  }
  return shop;
}

/// Longest paths by going round until nothing changes (Bellman and Ford).
std::vector<std::int32_t> naive_starts(const RetimeGraph& graph) {
  const std::size_t n = graph.nodes().size();
  std::vector<std::int32_t> start(n);
  for (std::size_t i = 0; i < n; ++i) start[i] = graph.nodes()[i].hi - graph.nodes()[i].length;
  for (std::size_t round = 0; round < n; ++round) {
    for (std::size_t i = 0; i < n; ++i) {
      for (const auto& next : graph.nodes()[i].next) {
        start[i] = std::min(start[i], start[next.node] - next.wait - graph.nodes()[i].length);
      }
    }
    for (const auto& line : graph.queues()) {
      for (std::size_t k = 0; k + 1 < line.size(); ++k) {
        start[line[k]] =
            std::min(start[line[k]], start[line[k + 1]] - graph.nodes()[line[k]].length);
      }
    }
  }
  return start;
}

/// The shortest time of a job shop with one chair a machine and no helpers: every order of every
/// machine.
std::int64_t best_of_all(const Shop& shop) {
  Loaded loaded = load(shop);
  std::int64_t best = std::numeric_limits<std::int64_t>::max();
  const std::size_t first = shop.jobs.size();
  std::vector<std::vector<std::size_t>> lines(
      loaded.graph.queues().begin() + static_cast<std::ptrdiff_t>(first),
      loaded.graph.queues().end());
  for (auto& line : lines) std::sort(line.begin(), line.end());
  const auto visit = [&](auto&& self, std::size_t machine) -> void {
    if (machine == lines.size()) {
      if (loaded.graph.time()) best = std::min(best, loaded.aim.cost(loaded.graph).early);
      return;
    }
    auto line = lines[machine];
    do {
      loaded.graph.refill(static_cast<RetimeGraph::Index>(first + machine), 2, line);
      self(self, machine + 1);
    } while (std::next_permutation(line.begin(), line.end()));
  };
  visit(visit, 0);
  return best;
}

std::int64_t improved(const Shop& shop, std::uint64_t seed, std::uint64_t work) {
  Loaded loaded = load(shop);
  REQUIRE(loaded.graph.time());
  Random random(seed);
  gp::Stop stop;
  const auto cost = gp::improve(
      loaded.graph, loaded.aim, std::numeric_limits<std::int64_t>::min(), random, work, stop);
  // what is said is what stands there
  REQUIRE(loaded.graph.time());
  CHECK(loaded.aim.cost(loaded.graph) == cost);
  return cost.early;
}

}  // namespace

TEST_SUITE("search/retime") {
  TEST_CASE("the timing is that of longest paths, after every change and back again") {
    Random random(gp::test::seed());
    int changed = 0;
    for (int round = 0; round < 60; ++round) {
      const Shop shop = random_shop(random, 5, 4, random.between(1, 2), random.between(0, 3));
      Loaded loaded = load(shop);
      RetimeGraph& graph = loaded.graph;
      REQUIRE(graph.time());
      std::vector<RetimeGraph::Tight> path;
      std::vector<RetimeChange> changes;
      for (int step = 0; step < 20; ++step) {
        const std::vector<std::int32_t> starts = naive_starts(graph);
        std::size_t first = 0;
        for (std::size_t i = 0; i < starts.size(); ++i) {
          REQUIRE(graph.start(i) == starts[i]);
          if (starts[i] < starts[first]) first = i;
        }
        graph.critical_path(first, random.next(), path);
        REQUIRE(graph.end(path.back().node) == kEnd);  // it leads to the end
        graph.work_out_heads();
        gp::list_changes(graph, path, changes);
        if (changes.empty()) break;
        const RetimeChange& change = changes[random.index(changes.size())];
        const std::int32_t said = change.alone() ? gp::estimate(graph, change) : 0;
        const auto before = graph.queues();
        const RetimeChange back = gp::apply(graph, change);
        if (graph.time()) {
          ++changed;
          // no more than comes out: a path that is there
          if (change.alone() && change.kind == RetimeChange::Kind::shift &&
              std::max(change.from, change.to) - std::min(change.from, change.to) == 1) {
            CHECK(said <= loaded.aim.cost(graph).early);
          }
          continue;
        }
        gp::apply(graph, back);
        REQUIRE(graph.queues() == before);
        REQUIRE(graph.time());
      }
    }
    CHECK(changed > 300);
  }

  TEST_CASE("three jobs at three machines: no order of the machines is better") {
    Random random(gp::test::seed());
    for (int round = 0; round < 40; ++round) {
      const Shop shop = random_shop(random, 3, 3, 1, 0);
      INFO("round ", round);
      CHECK(improved(shop, 1, 60'000) == best_of_all(shop));
    }
  }

  TEST_CASE(
      "helpers dealt out anew: each step has one, none has two at once, nobody starts earlier") {
    Random random(gp::test::seed());
    for (int round = 0; round < 40; ++round) {
      Loaded loaded = load(random_shop(random, 6, 4, 2, 3));
      RetimeGraph& graph = loaded.graph;
      REQUIRE(graph.time());
      const auto before = loaded.aim.cost(graph);
      gp::RetimePools pools(graph);
      REQUIRE_FALSE(pools.empty());
      pools.deal(graph);
      std::size_t places = 0;
      for (const auto& line : graph.queues()) places += line.size();
      CHECK(places == 3 * graph.nodes().size());  // person, helper, chair
      REQUIRE(graph.time());
      CHECK(loaded.aim.cost(graph).early <= before.early);
      CHECK(naive_starts(graph) == [&] {
        std::vector<std::int32_t> starts;
        for (std::size_t i = 0; i < graph.nodes().size(); ++i) starts.push_back(graph.start(i));
        return starts;
      }());
    }
  }

  TEST_CASE("a helper who would have to stay for it costs that stay") {
    // Queue 0 wears, 1 and 2 could help. The shot is at 100; whoever stands in queue 1 is there
    // from 100 to 120 anyway, in queue 2 from 0 to 10 alone.
    const auto fixed = [](std::int32_t from, std::int32_t length, std::int32_t queue) {
      RetimeNode node;
      node.length = length;
      node.lo = from;
      node.fixed = true;
      node.queue[0] = queue;
      return node;
    };
    RetimeNode step;
    step.length = 15;
    step.queue = {0, 1, -1};
    step.helpers = {1, 2};
    step.next = {{1, 0}};
    RetimeGraph graph(
        {step, fixed(100, 20, 0), fixed(100, 20, 1), fixed(0, 10, 2)}, {{0, 1}, {0, 2}, {3}}, {});
    RetimeAim aim;
    aim.people = {{0, 1}, {1, 1}, {2, 1}};
    aim.call = [](std::int32_t start, std::int32_t) { return start; };
    REQUIRE(graph.time());
    // 85 to 120, 85 to 120, 0 to 10
    CHECK(aim.cost(graph).rounded == 35 + 35 + 10);
    graph.move_to(0, 1, 2, 1);
    REQUIRE(graph.time());
    // 85 to 120, 100 to 120, 0 to 100
    CHECK(aim.cost(graph).rounded == 35 + 20 + 100);
  }

  TEST_CASE("the work of one helper is not given to another who would have to stay for it") {
    // Lena: 5 to sign in, 10 of getting ready, 15 and 15, and the light at 20:00: 65, and the two
    // she paints 55 and 40. Zoe, in the morning: 30, and the captain 40.
    const gp::Production film = gp::test::production_of(R"({"greasepaint": 1, "title": "Beards",
      "round_to": 1,
      "days": [{"date": "2027-04-17", "nobody_before": "08:00", "wrap_by": "22:00"}],
      "people": [{"id": "zoe", "can": ["glue"]},
                 {"id": "lena", "can": ["glue"], "free": ["2027-04-17 17:00-22:00"]},
                 {"id": "cap"}, {"id": "one"}, {"id": "two"}],
      "stations": [{"id": "beards", "staff": ["zoe", "lena"], "set_minutes": 10}],
      "looks": [{"id": "beard", "steps": [{"at": "beards", "minutes": 15, "by": "glue"}]}],
      "roles": [{"id": "captain", "person": "cap", "look": "beard"},
                {"id": "guard", "crowd": true, "from": ["one", "two"], "look": "beard"}],
      "scenes": [{"id": "morning", "at": "10:00", "shoot_minutes": 20,
                  "cast": [{"role": "captain"}]},
                 {"id": "night", "at": "20:00", "shoot_minutes": 20,
                  "cast": [{"role": "guard", "people": 2}],
                  "crew": [{"job": "light", "from": ["lena"]}]}]})");
    gp::Wishes wishes;
    wishes.effort = gp::test::effort(0.1);
    gp::Stop stop;
    const gp::Plan plan = gp::make_plan(film, wishes, stop);
    CHECK(gp::check(film, plan).empty());
    CHECK(plan.totals.on_site == 65 + 55 + 40 + 30 + 40);
  }

  TEST_CASE("plans with their steps moved are right and never worse") {
    int better = 0;
    for (std::uint64_t i = 0; i < (gp::test::effort(1) < 1 ? 10 : 60); ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      INFO("seed ", seed);
      const gp::Production film = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::medium()));
      gp::Wishes wishes;
      wishes.effort = 0.001;  // a plan with much left to gain
      gp::Stop stop;
      const gp::Plan plan = gp::make_plan(film, wishes, stop);
      const gp::Problem problem(film, wishes);
      const gp::Plan moved = gp::retimed(problem, plan, 1, 400'000, std::nullopt, stop);
      CHECK(gp::check(film, moved, wishes.answers).empty());
      const gp::Price was = gp::price(film, plan);
      const gp::Price now = gp::price(film, moved);
      CHECK_FALSE(gp::better(was, now, film.aim));
      CHECK(now.not_filmed == was.not_filmed);
      CHECK(now.unfilled == was.unfilled);
      CHECK(now.weighted_on_site == moved.totals.weighted_on_site);
      CHECK(now.waiting == moved.totals.waiting);
      if (gp::better(now, was, film.aim)) ++better;
    }
    MESSAGE(better, " plans got better");
    CHECK(better > 2);
  }
}
