#pragma once

#include "model/plan.h"
#include "prep/timeline.h"
#include "search/problem.h"
#include "search/retime/aim.h"
#include "search/retime/graph.h"

#include <cstddef>
#include <memory>
#include <vector>

namespace gp {

/// One day of a plan as a RetimeGraph. Of the chains that put looks on, the steps and the readying
/// of stations may move, everything else stands: the later the better, for whoever is called. Of
/// those that take looks off the same with time running backwards: the earlier the better, for
/// whoever is released.
class DayGraph {
 public:
  /// \param ground  with the together meals as the plan has them; must outlive this
  DayGraph(const Problem& problem, const Ground& ground, const DayPlan& plan, ChainPart part);

  [[nodiscard]] RetimeGraph& graph() { return *graph_; }
  [[nodiscard]] const RetimeAim& aim() const { return aim_; }
  /// How many activities may move.
  [[nodiscard]] std::size_t movable() const { return origins_.size(); }
  /// The day with its steps and readied stations where the graph has them; calls, releases and
  /// meals are not yet worked out anew.
  [[nodiscard]] DayPlan moved(const DayPlan& plan) const;

 private:
  class Loader;
  struct Origin {  ///< where a movable node comes from
    std::size_t node = 0;
    bool is_step = true;
    std::size_t index = 0;  ///< in DayPlan::steps or ready
  };

  ChainPart part_;
  std::vector<std::size_t> first_chair_;  ///< by station: its first queue
  std::vector<Origin> origins_;
  RetimeAim aim_;
  std::unique_ptr<RetimeGraph> graph_;
};

}  // namespace gp
