#include "model/check.h"
#include "model/price.h"
#include "support/builder.h"
#include "support/referee.h"

#include <map>
#include <set>
#include <sstream>
#include <string>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

// What an independent judge of plans (a program by others, in another language, made from the same
// rules) said of plans right and broken, kept in tests/data/judged/cases.jsonl so that it speaks in
// every clone. How the file is made: tests/referee/README.md.

TEST_SUITE("model/check: kept verdicts") {
  TEST_CASE("the checker names the rules that the independent judge named, and counts its price") {
    std::istringstream lines(gp::test::data_text("judged/cases.jsonl"));
    std::map<int, int> named;
    std::set<std::string> ways;
    int plans = 0;
    for (std::string line; std::getline(lines, line);) {
      const auto group = nlohmann::ordered_json::parse(line);
      const gp::Production production = gp::test::production_of(group["production"].dump());
      gp::Answers answers;
      answers.maybe = group["with_maybe"];
      for (const auto& judged : group["judged"]) {
        const std::string name =
            group["name"].get<std::string>() + ", " + judged["way"].get<std::string>();
        CAPTURE(name);
        const gp::Plan plan = gp::test::plan_of(judged["plan"].dump(), production);
        const auto rules = judged["rules"].get<std::set<int>>();
        CHECK(gp::test::rules(gp::check(production, plan, answers)) == rules);
        CHECK(gp::test::as_judged(gp::price(production, plan)) ==
              gp::test::judged_price(judged["cost"].dump()));
        for (const int rule : rules) ++named[rule];
        ways.insert(judged["way"].get<std::string>());
        ++plans;
      }
    }
    CHECK(plans >= 300);
    CHECK(ways.size() >= 95);
    for (int rule = 1; rule <= 11; ++rule) {
      CAPTURE(rule);
      CHECK(named[rule] >= 15);
    }
  }
}
