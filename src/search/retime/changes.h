#pragma once

#include "search/retime/graph.h"

#include <array>
#include <cstdint>
#include <vector>

namespace gp {

/// One change to the queues of a RetimeGraph.
struct RetimeChange {
  enum class Kind { shift, move } kind = Kind::shift;
  RetimeGraph::Index queue = 0;  ///< shift: in which; move: to which
  std::size_t node = 0;          ///< what is moved
  std::size_t from = 0, to = 0;  ///< shift: places in `queue`; move: `to` alone
  int slot = 0;                  ///< of `node` in that queue
  /// Shifts of the same node in its other queues that must go with this one: whoever it passes
  /// here stands in both.
  struct Shift {
    RetimeGraph::Index queue = RetimeGraph::kNone;
    std::size_t from = 0, to = 0;
  };
  std::array<Shift, 2> also{};
  [[nodiscard]] bool alone() const { return also[0].queue == RetimeGraph::kNone; }
};

/// Lists changes that can shorten the critical path: an activity of a block (neighbours in one
/// queue that hold each other) brought before its first or after its last; one moved to another
/// chair or helper. Only shifts that cannot make a circle, judged by start and head.
/// Sources: Balas and Vazacopoulos 1998, doi:10.1287/mnsc.44.2.262 (the moves and their
/// conditions); Dauzère-Pérès and Paulli 1997, doi:10.1023/A:1018930406487 (other machines). \param
/// path  as critical_path() gives it
void list_changes(const RetimeGraph& graph,
                  const std::vector<RetimeGraph::Tight>& path,
                  std::vector<RetimeChange>& changes);

/// The longest path through what a change moves, as if nothing else had changed, in minutes before
/// 0. Of two neighbours swapped it is no more than what comes out; of others it is a good guess.
/// For shifts that go alone, and moves. Requires work_out_heads(). Cost: O(activities passed).
std::int32_t estimate(const RetimeGraph& graph, const RetimeChange& change);

/// Makes the change; what takes it back comes out.
RetimeChange apply(RetimeGraph& graph, const RetimeChange& change);

}  // namespace gp
