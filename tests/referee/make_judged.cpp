// Makes tests/data/judged/cases.jsonl anew: see README.md here. Not a test.
#include "referee/agreement.h"
#include "search/planner.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/referee.h"
#include "support/seed.h"

#include <algorithm>
#include <exception>
#include <fstream>
#include <iostream>
#include <map>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using gp::test::Judged;
using gp::test::Pairs;

namespace {

constexpr std::size_t kProductions = 36;
constexpr std::size_t kBrokenOfEach = 5;

/// What is in the corpus so far.
struct Taken {
  std::map<std::string, int> ways;
  std::map<int, int> rules;

  /// How little a plan would add: none of a way that is new; else as often as the rarest of the
  /// rules that it breaks came up.
  int known(const Judged& plan) const {
    if (!ways.contains(plan.way)) return 0;
    int rarest = 1000;
    for (const int rule : gp::test::rules(plan.ours)) {
      const auto found = rules.find(rule);
      rarest = std::min(rarest, found == rules.end() ? 0 : found->second);
    }
    return 1 + rarest;
  }
  void add(const Judged& plan) {
    ++ways[plan.way];
    for (const int rule : gp::test::rules(plan.ours)) ++rules[rule];
  }
};

/// Keeps the right plan and those of the broken that add most.
void thin_out(Pairs& pair, Taken& taken) {
  std::vector<Judged> kept = {pair.plans.front()};
  taken.add(kept.front());
  pair.plans.erase(pair.plans.begin());
  while (!pair.plans.empty()) {
    const auto best = std::min_element(
        pair.plans.begin(), pair.plans.end(), [&](const Judged& x, const Judged& y) {
          return taken.known(x) < taken.known(y);
        });
    // a new way is never left out
    if (kept.size() > kBrokenOfEach && taken.known(*best) > 0) break;
    taken.add(*best);
    kept.push_back(std::move(*best));
    pair.plans.erase(best);
  }
  pair.plans = std::move(kept);
}

/// A random production that is small on paper too, planned.
Pairs random_pair(std::uint64_t seed) {
  const gp::test::ProductionSize size{4, 6, 2, 4, 2, 3, 2, 1};
  const std::string text = gp::test::random_production(seed, size);
  const gp::Production production = gp::test::production_of(text);
  gp::Wishes wishes;
  wishes.answers.maybe = seed % 3 == 1;
  wishes.seed = seed;
  gp::Stop stop;
  const gp::Plan plan = gp::make_plan(production, wishes, stop);
  return gp::test::pairs_of(
      "random " + std::to_string(seed), text, plan, wishes.answers, seed, 1000);
}

Pairs pair_by_hand(const std::string& name) {
  const gp::test::Planned right = name == "lamp" ? gp::test::lamp() : gp::test::kettle();
  return gp::test::pairs_of(name,
                            gp::test::data_text("plans/" + name + ".json"),
                            right.plan,
                            gp::Answers{},
                            gp::test::seed(),
                            1000);
}

}  // namespace

TEST_CASE("the corpus is written") {
  const auto referee = gp::test::referee_path();
  const char* out = std::getenv("GREASEPAINT_CORPUS");
  REQUIRE(referee.has_value());
  REQUIRE(out != nullptr);
  std::vector<Pairs> cases = {pair_by_hand("lamp"), pair_by_hand("kettle")};
  for (std::uint64_t seed = gp::test::seed(); cases.size() < kProductions; ++seed) {
    Pairs pair = random_pair(seed);
    // A plan of nothing has nothing to break.
    if (pair.plans.size() > 25) cases.push_back(std::move(pair));
  }
  Taken taken;
  for (Pairs& pair : cases) thin_out(pair, taken);
  const gp::test::Agreement agreement = gp::test::compare(*referee, cases);
  REQUIRE(agreement.disagreements.empty());

  std::vector<gp::test::ToJudge> questions;
  for (const Pairs& pair : cases) {
    questions.push_back({pair.production, {}, pair.answers});
    for (const Judged& plan : pair.plans) questions.back().plans.push_back(plan.plan);
  }
  const auto verdicts = gp::test::judge(*referee, questions);
  std::ofstream file(out, std::ios::binary);
  std::size_t written = 0;
  for (std::size_t i = 0; i < cases.size(); ++i) {
    nlohmann::ordered_json line;
    line["name"] = cases[i].name;
    line["with_maybe"] = cases[i].answers.maybe;
    line["production"] = nlohmann::ordered_json::parse(cases[i].production);
    for (std::size_t j = 0; j < cases[i].plans.size(); ++j) {
      nlohmann::ordered_json judged;
      judged["way"] = cases[i].plans[j].way;
      judged["rules"] = verdicts[i][j].rules;
      judged["cost"] = nlohmann::ordered_json::parse(verdicts[i][j].cost);
      judged["plan"] = nlohmann::ordered_json::parse(cases[i].plans[j].plan);
      line["judged"].push_back(judged);
      ++written;
    }
    file << line.dump() << '\n';
  }
  file.flush();
  REQUIRE(file.good());
  std::cout << written << " plans of " << cases.size() << " productions, " << taken.ways.size() - 1
            << " ways of breaking one\n";
}
