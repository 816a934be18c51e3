#include "referee/agreement.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/referee.h"
#include "support/seed.h"

#ifdef GP_HAS_PLANNER
#include "search/planner.h"
#endif

#include <iostream>
#include <optional>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::Answers;
using gp::test::Agreement;
using gp::test::Pairs;
using gp::test::Planned;
using gp::test::ProductionSize;

namespace {

/// The referee, or a line that says why there is nothing to compare with. What it once said of a
/// few hundred plans is kept in tests/data/judged and compared always
/// (tests/model/judged_test.cpp).
std::optional<std::string> referee() {
  auto path = gp::test::referee_path();
  if (!path) std::cout << "skipped: no referee at " << gp::test::referee_places() << "\n";
  return path;
}

void check_agreement(const Agreement& agreement) {
  for (const std::string& disagreement : agreement.disagreements) {
    const std::string& told = disagreement;
    CAPTURE(told);
    CHECK(told.empty());
  }
}

}  // namespace

TEST_SUITE("referee/agree") {
  TEST_CASE(
      "plans made by hand, broken in every way: our checker and the referee name the same rules") {
    const auto path = referee();
    if (!path) return;
    std::vector<Pairs> cases;
    for (std::uint64_t i = 0; i < 30; ++i) {
      for (const std::string name : {"lamp", "kettle"}) {
        const std::uint64_t seed = gp::test::seed() + i;
        const std::string text = gp::test::data_text("plans/" + name + ".json");
        const Planned right = name == "lamp" ? gp::test::lamp() : gp::test::kettle();
        cases.push_back(gp::test::pairs_of(
            name + " " + std::to_string(seed), text, right.plan, Answers{}, seed, 1000));
      }
    }
    const Agreement agreement = gp::test::compare(*path, cases);
    check_agreement(agreement);
    CHECK(agreement.asked > 3000);
    for (int rule = 1; rule <= 11; ++rule) {
      CAPTURE(rule);
      const auto named = agreement.named.find(rule);
      REQUIRE(named != agreement.named.end());
      CHECK(named->second >= 20);
    }
  }

#ifdef GP_HAS_PLANNER
  TEST_CASE(
      "300 random productions planned: no rule broken; then broken in every way: the same rules") {
    const auto path = referee();
    std::vector<Pairs> cases;
    for (std::uint64_t i = 0; i < 300; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const std::string text = gp::test::random_production(seed, ProductionSize::small());
      const gp::Production production = gp::test::production_of(text);
      gp::Wishes wishes;
      wishes.answers.maybe = i % 3 == 1;
      wishes.answers.asked = i % 5 == 1;
      wishes.seed = seed;
      gp::Stop stop;
      const gp::Plan plan = gp::make_plan(production, wishes, stop);
      CHECK(gp::test::rules(gp::check(production, plan, wishes.answers)).empty());
      if (path) {
        cases.push_back(gp::test::pairs_of(
            "small " + std::to_string(seed), text, plan, wishes.answers, seed, 12));
      }
    }
    if (!path) return;
    const Agreement agreement = gp::test::compare(*path, cases);
    check_agreement(agreement);
    for (int rule = 1; rule <= 11; ++rule) {
      CAPTURE(rule);
      const auto named = agreement.named.find(rule);
      REQUIRE(named != agreement.named.end());
      CHECK(named->second >= 10);
    }
  }
#endif
}
