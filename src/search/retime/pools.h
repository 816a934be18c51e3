#pragma once

#include "search/retime/graph.h"

#include <cstddef>
#include <vector>

namespace gp {

/// Queues any of which would do for the same activities: the helpers with a skill, the chairs of a
/// station. Which of them does what matters little; whom it follows there matters much. So they are
/// dealt out anew by the times as they are: each activity to a queue whose last one precedes it
/// anyway (same chair, same person), else to the one that has been free longest, so that few are
/// held back by their helper alone.
/// Source: chaining, Policella, Oddi, Smith and Cesta 2004, doi:10.1007/978-3-540-30201-8_81.
class RetimePools {
 public:
  explicit RetimePools(const RetimeGraph& graph);

  [[nodiscard]] bool empty() const { return pools_.empty(); }
  /// Deals out all pools by the starts as timed. The starts stay possible; the graph is to be timed
  /// anew. Where something fits nowhere its pool is left as it was.
  /// Cost: O(n log n + n × queues of the pool).
  void deal(RetimeGraph& graph);

 private:
  struct Pool {
    int slot = 1;
    std::vector<RetimeGraph::Index> queues;
    std::vector<std::size_t> members;             ///< that may be dealt
    std::vector<std::vector<std::size_t>> stuck;  ///< by queue, in order of time when dealt
  };

  void deal(RetimeGraph& graph, Pool& pool);

  std::vector<Pool> pools_;
  // work space
  std::vector<std::vector<std::size_t>> lines_;
};

}  // namespace gp
