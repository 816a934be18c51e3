#pragma once

#include "base/random.h"
#include "model/plan.h"
#include "model/production.h"

#include <algorithm>
#include <vector>

// Inside of break_plan alone: the ways, a file for a few rules each.

namespace gp::test {

/// A copy of a plan that is being broken, with what is needed to find a place to do it.
struct Breaking {
  const Production& production;
  Plan plan;
  Random& random;

  /// A random row of a list of some day that is fit for it; null: there is none.
  template <class Row, class Fit>
  Row* row(std::vector<Row> DayPlan::*list, Fit fit) {
    std::vector<Row*> fitting;
    for (DayPlan& day : plan.days) {
      for (Row& one : day.*list) {
        if (fit(one)) fitting.push_back(&one);
      }
    }
    return fitting.empty() ? nullptr : fitting[random.index(fitting.size())];
  }
  template <class Row>
  Row* row(std::vector<Row> DayPlan::*list) {
    return row(list, [](const Row&) { return true; });
  }
  /// A random day with something filmed; null: there is none.
  DayPlan* filmed_day();
  PersonId anybody() { return PersonId(random.index(production.people.size())); }
};

using Apply = bool (*)(Breaking&);  ///< whether there was a place for it

struct Way {
  int rule;
  const char* name;
  Apply apply;
};

template <class Row>
void drop(std::vector<Row>& rows, const Row* row) {
  rows.erase(rows.begin() + (row - rows.data()));
}
/// Drops a row of whichever day it is of.
template <class Row>
void drop(Breaking& it, std::vector<Row> DayPlan::*list, const Row* row) {
  for (DayPlan& day : it.plan.days) {
    auto& rows = day.*list;
    if (!rows.empty() && row >= rows.data() && row < rows.data() + rows.size()) {
      drop(rows, row);
      return;
    }
  }
}

const std::vector<Way>& ways_of_scenes();    ///< rules 1, 2, 4, 5
const std::vector<Way>& ways_of_looks();     ///< rules 6, 7, 8
const std::vector<Way>& ways_of_people();    ///< rules 3, 9
const std::vector<Way>& ways_of_meals();     ///< rules 10, 11
const std::vector<Way>& ways_of_any_kind();  ///< whatever comes of it

}  // namespace gp::test
