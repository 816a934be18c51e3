#pragma once

#include "base/minutes.h"
#include "model/plan.h"
#include "model/price.h"
#include "model/production.h"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace gp::whatif {

/// The same thing in two plans.
template <class T>
struct Both {
  T before{}, after{};
  bool operator==(const Both&) const = default;
};

/// One day's main times, as its clock shows them; none: nobody is called, nothing is filmed.
struct DayRow {
  Date date;
  Both<std::optional<WallTime>> first_call, first_shot, wrap;
  bool operator==(const DayRow&) const = default;
};

/// A call that is not the same in both.
struct CallRow {
  std::string person, name;  ///< id; as shown
  Date date;
  Both<std::optional<WallTime>> call;  ///< none: not called on that day
  Minutes later{};  ///< elapsed, by how much the call is later; less than 0: earlier
  bool operator==(const CallRow&) const = default;
};

/// A scene that only one of the plans films, or that only one of the productions has.
struct SceneRow {
  std::string scene, name;
  std::string why;  ///< of a lost one
  bool operator==(const SceneRow&) const = default;
};

/// Places of a scene that both plans film, with other numbers of heads missing.
struct HeadsRow {
  std::string scene, scene_name;
  std::string what, what_name;  ///< the role's id, or the job
  bool job = false;
  Both<int> missing;
  bool operator==(const HeadsRow&) const = default;
};

/// All that people notice of two plans, each of its own production: what the two have in common is
/// known by the ids and dates of the files. Rows stand in the order of the file before, then of
/// the file after, where nothing else is said.
struct Difference {
  Both<Price> price;
  Both<std::size_t> people;                ///< called at least once
  std::vector<DayRow> days;                ///< every day that one of the plans has, by date
  std::vector<CallRow> calls;              ///< by date, then person
  std::vector<SceneRow> won, lost;         ///< of scenes that both productions have
  std::vector<SceneRow> no_longer, newly;  ///< scenes that only one of the productions has
  std::vector<HeadsRow> heads;
  bool operator==(const Difference&) const = default;
};

/// Cost: O(n log n) in the plans' entries. Threads: pure.
Difference difference(const Production& before_production,
                      const Plan& before,
                      const Production& after_production,
                      const Plan& after);

}  // namespace gp::whatif
