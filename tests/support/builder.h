#pragma once

#include "model/check.h"
#include "model/plan.h"
#include "model/production.h"

#include <set>
#include <string>
#include <vector>

#include <doctest/doctest.h>

namespace gp::test {

/// The bytes of a file below tests/data. Throws where there is none.
std::string data_text(const std::string& path);

/// A production from its JSON; throws std::runtime_error with every fault where it has any.
Production production_of(const std::string& text);
/// A plan of the production from its JSON; throws as production_of() does.
Plan plan_of(const std::string& text, const Production& production);

/// A production and a plan of it, with the rows of the plan to be found by the ids of the file.
/// Asking for what is not there throws.
struct Planned {
  Production production;
  Plan plan;

  PersonId person(const std::string& id) const;
  SceneId scene(const std::string& id) const;
  RoleId role(const std::string& id) const;
  LookId look(const std::string& id) const;
  StationId station(const std::string& id) const;
  ItemId item(const std::string& id) const;
  UnitId unit(const std::string& id) const;

  DayPlan& day(std::size_t number = 0) { return plan.days.at(number); }
  PlannedScene& planned(const std::string& scene_id, std::size_t day = 0);
  std::vector<PersonId>& cast(const std::string& scene_id, const std::string& role_id);
  std::vector<PersonId>& crew(const std::string& scene_id, const std::string& job);
  PlannedStep& step(const std::string& person_id, ChainPart part, int number);
  Wear& wear(const std::string& person_id);
  PlannedMeal& meal(const std::string& name);
  Stay& stay(const std::string& person_id);

  /// Calls, releases and sums anew from the plan's engagements, after these were changed on
  /// purpose, so that rule 11 holds again.
  void recount();
  /// The rules broken.
  [[nodiscard]] std::set<int> broken(Answers answers = {}) const;
};

/// See Planned::recount(). Moments that no clock shows are left as they fall.
void recount_stays(const Production& production, Plan& plan);

/// The numbers of the rules among findings.
std::set<int> rules(const std::vector<Broken>& findings);

/// tests/data/plans/lamp.json and lamp.plan.json: one day with a bit of everything, worked out by
/// hand and found right by the referee.
Planned lamp();
/// tests/data/plans/kettle.json and kettle.plan.json: the example of the plan format.
Planned kettle();

/// "10:36" on a day without a change of the clocks.
Minute at(const std::string& time);

}  // namespace gp::test

/// Sets of rules in a red test's output.
template <>
struct doctest::StringMaker<std::set<int>> {
  static doctest::String convert(const std::set<int>& numbers) {
    std::string text = "{";
    for (const int number : numbers) text += (text.size() > 1 ? ", " : "") + std::to_string(number);
    return (text + "}").c_str();
  }
};
