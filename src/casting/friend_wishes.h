#pragma once

#include "base/stop.h"
#include "casting/cast_problem.h"
#include "casting/head_flow.h"

#include <cstdint>
#include <vector>

namespace gp {

/// Brings friends together in crowds and crew that are filled already. By a look, not the best
/// there is: friends make a quadratic assignment of what else is a flow.
class FriendWishes {
 public:
  explicit FriendWishes(const CastProblem& problem);

  /// Fills again with a bonus for those whose friend was there, as long as that is better, then
  /// exchanges single heads. Never worse than `it` came. Cost: up to three fillings more; none
  /// where nobody likes to be with anybody. When it is stopped, what is better by then stays.
  void bring_together(HeadFlow& flow, CastSolution& it, Stop& stop) const;

 private:
  struct Load {
    std::vector<std::int64_t> scenes_of;  ///< by person
    std::vector<char> taken;              ///< by group and person
  };
  void fill_again(HeadFlow& flow, CastSolution& it, Stop& stop) const;
  void exchange_heads(CastSolution& it, Stop& stop) const;
  bool exchange_in(CastSolution& it, std::size_t scene, Load& load) const;
  [[nodiscard]] std::int64_t ties(const std::vector<char>& here, int person, int without) const;

  const CastProblem& problem_;
  bool any_ = false;
  std::vector<std::vector<int>> liked_by_;  ///< by person: who would like to be with them
};

}  // namespace gp
