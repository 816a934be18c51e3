#include "search/retime/changes.h"

#include <algorithm>
#include <limits>

namespace gp {
namespace {

using Index = RetimeGraph::Index;

/// Minutes from the activity's start to 0, itself included.
std::int32_t tail(const RetimeGraph& graph, std::size_t node) {
  return -graph.start(node);
}

int slot_in(const RetimeGraph& graph, std::size_t node, Index queue) {
  for (int slot = 0; slot < 3; ++slot) {
    if (graph.queue_of(node, slot) == queue) return slot;
  }
  return -1;
}

/// The head of a node whose neighbour before it in `queue` is left out.
std::int32_t head_but(const RetimeGraph& graph, std::size_t node, int but) {
  std::int32_t head = 0;
  for (const RetimeNode::Next& before : graph.chain_before(node)) {
    const RetimeNode& other = graph.nodes()[before.node];
    if (!other.fixed) head = std::max(head, graph.head(before.node) + other.length + before.wait);
  }
  for (int slot = 0; slot < 3; ++slot) {
    const Index before = graph.before_in(node, slot);
    if (slot == but || before == RetimeGraph::kNone) continue;
    const auto b = static_cast<std::size_t>(before);
    const RetimeNode& other = graph.nodes()[b];
    if (!other.fixed) {
      head = std::max(head, graph.head(b) + other.length + graph.lag(b, node, slot));
    }
  }
  return head;
}

/// The tail of a node whose neighbour after it in `queue` is left out, itself included.
std::int32_t tail_but(const RetimeGraph& graph, std::size_t node, int but) {
  const RetimeNode& self = graph.nodes()[node];
  std::int32_t least = -(self.hi - self.length);
  for (const RetimeNode::Next& next : self.next) {
    least = std::max(least, tail(graph, next.node) + next.wait + self.length);
  }
  for (int slot = 0; slot < 3; ++slot) {
    const Index after = graph.after_in(node, slot);
    if (slot == but || after == RetimeGraph::kNone) continue;
    const auto a = static_cast<std::size_t>(after);
    least = std::max(least, tail(graph, a) + graph.lag(node, a, slot) + self.length);
  }
  return least;
}

/// Whether `u`, brought right behind `v` in a queue, could not stand in a circle: nothing else
/// after `u` leads to `v`.
bool safe_behind(const RetimeGraph& graph, std::size_t u, std::size_t v, int but) {
  for (const RetimeNode::Next& next : graph.nodes()[u].next) {
    if (graph.start(next.node) < graph.start(v)) return false;
  }
  for (int slot = 0; slot < 3; ++slot) {
    const Index after = graph.after_in(u, slot);
    if (slot == but || after == RetimeGraph::kNone) continue;
    if (graph.start(static_cast<std::size_t>(after)) < graph.start(v)) return false;
  }
  return true;
}

bool safe_before(const RetimeGraph& graph, std::size_t v, std::size_t u, int but) {
  const auto end_of_head = [&](std::size_t node) {
    return graph.head(node) + graph.nodes()[node].length;
  };
  for (const RetimeNode::Next& before : graph.chain_before(v)) {
    if (end_of_head(before.node) > end_of_head(u)) return false;
  }
  for (int slot = 0; slot < 3; ++slot) {
    const Index before = graph.before_in(v, slot);
    if (slot == but || before == RetimeGraph::kNone) continue;
    if (end_of_head(static_cast<std::size_t>(before)) > end_of_head(u)) return false;
  }
  return true;
}

/// Whom the shifted activity passes may stand in another of its queues too: it must pass them there
/// as well, or a circle is made.
void take_along(const RetimeGraph& graph, RetimeChange& change) {
  const auto& line = graph.queues()[static_cast<std::size_t>(change.queue)];
  const bool later = change.from < change.to;
  const auto [least, most] = std::minmax(change.from, change.to);
  std::size_t used = 0;
  for (int slot = 0; slot < 3; ++slot) {
    const Index other = graph.queue_of(change.node, slot);
    if (other == RetimeGraph::kNone || other == change.queue) continue;
    const std::size_t own = graph.place_in(other, change.node);
    std::size_t to = own;
    for (std::size_t place = least; place <= most; ++place) {
      if (line[place] == change.node || slot_in(graph, line[place], other) < 0) continue;
      const std::size_t passed = graph.place_in(other, line[place]);
      to = later ? std::max(to, passed) : std::min(to, passed);
    }
    if (to != own && used < change.also.size()) change.also[used++] = {other, own, to};
  }
}

void list_block(const RetimeGraph& graph,
                const std::vector<RetimeGraph::Tight>& path,
                std::size_t first,
                std::size_t last,
                Index queue,
                std::vector<RetimeChange>& changes) {
  const auto place = [&](std::size_t i) { return graph.place_in(queue, path[i].node); };
  const std::size_t front = place(first);
  // a meal that the way passed over is no part of the block
  if (place(last) - front != last - first) return;
  const auto slot_of = [&](std::size_t i) { return slot_in(graph, path[i].node, queue); };
  const auto shift = [&](std::size_t i, std::size_t to) {
    RetimeChange change{
        RetimeChange::Kind::shift, queue, path[i].node, front + (i - first), to, slot_of(i), {}};
    take_along(graph, change);
    changes.push_back(change);
  };
  for (std::size_t i = first; i < last; ++i) {
    const bool neighbour = i + 1 == last;
    if (neighbour || safe_behind(graph, path[i].node, path[last].node, slot_of(i))) {
      shift(i, front + (last - first));
    }
  }
  // two alone are swapped already
  for (std::size_t i = first + (last - first > 1 ? 1 : 2); i <= last; ++i) {
    const bool neighbour = i == first + 1;
    if (neighbour || safe_before(graph, path[i].node, path[first].node, slot_of(i))) {
      shift(i, front);
    }
  }
}

/// The best of the places round where it would stand by its start.
void list_moves(const RetimeGraph& graph,
                std::size_t node,
                int slot,
                const std::vector<Index>& queues,
                std::vector<RetimeChange>& changes) {
  for (const Index queue : queues) {
    if (queue == graph.queue_of(node, slot)) continue;
    const auto& line = graph.queues()[static_cast<std::size_t>(queue)];
    const auto later = std::partition_point(line.begin(), line.end(), [&](std::size_t other) {
      return graph.start(other) < graph.start(node);
    });
    const auto place = static_cast<std::size_t>(later - line.begin());
    RetimeChange best{RetimeChange::Kind::move, queue, node, 0, 0, slot, {}};
    std::int32_t best_length = std::numeric_limits<std::int32_t>::max();
    for (std::size_t to = place > 1 ? place - 2 : 0; to <= std::min(place + 2, line.size()); ++to) {
      RetimeChange change = best;
      change.to = to;
      const std::int32_t length = estimate(graph, change);
      if (length >= best_length) continue;
      best = change;
      best_length = length;
    }
    changes.push_back(best);
  }
}

}  // namespace

void list_changes(const RetimeGraph& graph,
                  const std::vector<RetimeGraph::Tight>& path,
                  std::vector<RetimeChange>& changes) {
  changes.clear();
  for (std::size_t i = 0; i < path.size(); ++i) {
    const RetimeNode& node = graph.nodes()[path[i].node];
    if (node.fixed) continue;
    // only where the queue it would leave is what holds it, or what it holds
    const auto holds = [&](int slot) {
      if (path[i].slot == slot) return true;
      return i > 0 && path[i - 1].slot >= 0 &&
             graph.queue_of(path[i - 1].node, path[i - 1].slot) ==
                 graph.queue_of(path[i].node, slot);
    };
    if (!node.helpers.empty() && holds(1))
      list_moves(graph, path[i].node, 1, node.helpers, changes);
    if (!node.chairs.empty() && holds(2)) list_moves(graph, path[i].node, 2, node.chairs, changes);
  }
  for (std::size_t first = 0; first + 1 < path.size();) {
    if (path[first].slot < 0 || graph.nodes()[path[first].node].fixed) {
      ++first;
      continue;
    }
    const Index queue = graph.queue_of(path[first].node, path[first].slot);
    std::size_t last = first + 1;
    while (last + 1 < path.size() && path[last].slot >= 0 &&
           graph.queue_of(path[last].node, path[last].slot) == queue) {
      ++last;
    }
    std::size_t movable = last;
    while (movable > first && graph.nodes()[path[movable].node].fixed) --movable;
    if (movable > first) list_block(graph, path, first, movable, queue, changes);
    first = last;
  }
}

std::int32_t estimate(const RetimeGraph& graph, const RetimeChange& change) {
  if (change.kind == RetimeChange::Kind::move) {
    const auto& line = graph.queues()[static_cast<std::size_t>(change.queue)];
    std::int32_t head = head_but(graph, change.node, change.slot);
    std::int32_t after = tail_but(graph, change.node, change.slot);
    if (change.to > 0) {
      const std::size_t before = line[change.to - 1];
      const RetimeNode& other = graph.nodes()[before];
      if (!other.fixed) {
        head = std::max(
            head, graph.head(before) + other.length + graph.lag(before, change.node, change.slot));
      }
    }
    if (change.to < line.size()) {
      const std::size_t next = line[change.to];
      after = std::max(after,
                       tail(graph, next) + graph.lag(change.node, next, change.slot) +
                           graph.nodes()[change.node].length);
    }
    return head + after;
  }
  // the changed stretch of the queue in its new order
  const auto& line = graph.queues()[static_cast<std::size_t>(change.queue)];
  const auto [least, most] = std::minmax(change.from, change.to);
  const std::size_t count = most - least + 1;
  const auto at = [&](std::size_t i) {  // i-th of the new order
    if (change.from < change.to) return i + 1 == count ? line[least] : line[least + i + 1];
    return i == 0 ? line[most] : line[least + i - 1];
  };
  const auto lag = [&](std::size_t a, std::size_t b) {
    return graph.lag(a, b, slot_in(graph, a, change.queue) == 2 ? 2 : 0);
  };
  std::int32_t longest = std::numeric_limits<std::int32_t>::min();  // 0 may lie anywhere
  // heads forward, kept where tails are added on the way back
  thread_local std::vector<std::int32_t> heads;
  heads.resize(count);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t node = at(i);
    std::int32_t head = head_but(graph, node, slot_in(graph, node, change.queue));
    if (i == 0) {
      if (least > 0) {
        const std::size_t before = line[least - 1];
        const RetimeNode& other = graph.nodes()[before];
        if (!other.fixed)
          head = std::max(head, graph.head(before) + other.length + lag(before, node));
      }
    } else {
      const std::size_t before = at(i - 1);
      head = std::max(head, heads[i - 1] + graph.nodes()[before].length + lag(before, node));
    }
    heads[i] = head;
  }
  std::int32_t next_tail = 0;
  for (std::size_t i = count; i-- > 0;) {
    const std::size_t node = at(i);
    std::int32_t own = tail_but(graph, node, slot_in(graph, node, change.queue));
    const std::int32_t length = graph.nodes()[node].length;
    if (i + 1 == count) {
      if (most + 1 < line.size()) {
        const std::size_t next = line[most + 1];
        own = std::max(own, tail(graph, next) + lag(node, next) + length);
      }
    } else {
      own = std::max(own, next_tail + lag(node, at(i + 1)) + length);
    }
    next_tail = own;
    longest = std::max(longest, heads[i] + own);
  }
  return longest;
}

RetimeChange apply(RetimeGraph& graph, const RetimeChange& change) {
  RetimeChange back = change;
  if (change.kind == RetimeChange::Kind::shift) {
    graph.shift_in(change.queue, change.from, change.to);
    std::swap(back.from, back.to);
    for (std::size_t k = 0; k < change.also.size(); ++k) {
      const RetimeChange::Shift& shift = change.also[k];
      if (shift.queue == RetimeGraph::kNone) break;
      graph.shift_in(shift.queue, shift.from, shift.to);
      std::swap(back.also[k].from, back.also[k].to);
    }
    return back;
  }
  back.queue = graph.queue_of(change.node, change.slot);
  back.to = graph.place_in(back.queue, change.node);
  graph.move_to(change.node, change.slot, change.queue, change.to);
  return back;
}

}  // namespace gp
