#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace gp {

/// One activity of a day in a RetimeGraph. Times are minutes; which way they run is the caller's.
struct RetimeNode {
  std::int32_t length = 0;
  std::int32_t lo = -1'000'000;  ///< starts no earlier
  std::int32_t hi = 1'000'000;   ///< ends no later
  bool fixed = false;            ///< stands at `lo`
  bool nowhere = false;          ///< has no place (a meal): the way goes on through it
  std::int32_t where = -1;       ///< index of its place, for the way; -1: anywhere
  /// Queues it stands in: whose it is, who helps, which chair. -1: none.
  std::array<std::int32_t, 3> queue{-1, -1, -1};
  /// The helpers and chairs it may be moved to (all of one kind); empty: as it is.
  std::vector<std::int32_t> helpers, chairs;
  struct Next {
    std::size_t node = 0;
    std::int32_t wait = 0;  ///< after this one's end [min]
  };
  std::vector<Next> next;  ///< what must come after it, whatever else: the chain
};

/// Activities in queues, one after the other in each: the disjunctive graph of scheduling (Roy and
/// Sussmann 1964, from memory), run backwards: everything is as late as the queues and what is
/// fixed allow. A queue is a person (their own steps, those they help with, scenes, meals) or a
/// chair.
class RetimeGraph {
 public:
  using Index = std::int32_t;
  static constexpr Index kNone = -1;

  /// \param nodes   in any order; `queues` holds their order in each queue
  /// \param ways    minutes between places, ways[a][b]
  RetimeGraph(std::vector<RetimeNode> nodes,
              std::vector<std::vector<std::size_t>> queues,
              std::vector<std::vector<std::int32_t>> ways);

  [[nodiscard]] const std::vector<RetimeNode>& nodes() const { return nodes_; }
  [[nodiscard]] const std::vector<std::vector<std::size_t>>& queues() const { return queues_; }
  [[nodiscard]] Index queue_of(std::size_t node, int slot) const {
    return links_[node].queue[static_cast<std::size_t>(slot)];
  }
  /// Its neighbours in that queue; kNone at an end, and where it stands in none.
  [[nodiscard]] Index after_in(std::size_t node, int slot) const {
    return links_[node].after[static_cast<std::size_t>(slot)];
  }
  [[nodiscard]] Index before_in(std::size_t node, int slot) const {
    return links_[node].before[static_cast<std::size_t>(slot)];
  }
  [[nodiscard]] const std::vector<RetimeNode::Next>& chain_before(std::size_t node) const {
    return chain_before_[node];
  }

  /// Works out the latest start of everything. False: a circle, or something has no room.
  /// Cost: O(nodes).
  bool time();
  [[nodiscard]] std::int32_t start(std::size_t node) const { return start_[node]; }
  [[nodiscard]] std::int32_t end(std::size_t node) const {
    return start_[node] + links_[node].length;
  }
  /// The minutes that must pass before each can start, from the first that nothing precedes; what
  /// stands behind something fixed is not held back by it. Requires time() before. Cost: O(nodes).
  void work_out_heads();
  [[nodiscard]] std::int32_t head(std::size_t node) const { return head_[node]; }
  /// Minutes that the way takes from one to the other, if they follow each other in that slot.
  [[nodiscard]] std::int32_t lag(std::size_t from, std::size_t to, int slot) const;

  /// One link of what keeps an activity from being later.
  struct Tight {
    std::size_t node = 0;
    int slot = -1;  ///< which queue links it to the next; -1: the chain
  };
  /// The activities that hold each other from `node` on, up to one that is fixed or at its `hi`.
  /// \param pick  chooses among several that hold it: any number
  void critical_path(std::size_t node, std::uint64_t pick, std::vector<Tight>& path) const;

  /// Takes what stands at `from` in a queue to place `to`; those between close up.
  void shift_in(Index queue, std::size_t from, std::size_t to);
  /// Takes the activity out of the queue in that slot and puts it into another one before place
  /// `at`.
  void move_to(std::size_t node, int slot, Index queue, std::size_t at);
  /// Gives a queue these activities in this order; all of a pool's queues are given before the
  /// graph is asked again.
  void refill(Index queue, int slot, const std::vector<std::size_t>& line);
  /// Its place in a queue it stands in.
  [[nodiscard]] std::size_t place_in(Index queue, std::size_t node) const;

 private:
  /// What is read at every timing, close together.
  struct Links {
    std::int32_t length, lo, hi, where;
    std::array<Index, 3> queue, before, after;
    bool fixed, nowhere;
  };

  [[nodiscard]] std::int32_t latest(std::size_t node) const;
  /// The latest that one queue allows [start of the activity]; the follower that says so.
  [[nodiscard]] std::int32_t queue_allows(std::size_t node, int slot, Index& follower) const;
  void link(Index queue, std::size_t from, std::size_t until);
  [[nodiscard]] int slot_in(Index queue, std::size_t node) const;

  std::vector<RetimeNode> nodes_;
  std::vector<std::vector<std::size_t>> queues_;
  std::vector<std::vector<std::int32_t>> ways_;
  std::vector<std::vector<RetimeNode::Next>> chain_before_;
  std::vector<Links> links_;
  std::vector<std::array<std::int32_t, 3>> at_;  ///< place of each node in its queues
  std::vector<std::int32_t> start_;
  std::vector<std::int32_t> head_;
  std::vector<std::int32_t> order_;  ///< as timed, from the last to the first
  std::vector<std::int32_t> waiting_for_;
};

}  // namespace gp
