#include "search/retime/graph.h"

#include <algorithm>
#include <limits>
#include <utility>

namespace gp {
namespace {

constexpr std::size_t at(std::int32_t index) {
  return static_cast<std::size_t>(index);
}

}  // namespace

RetimeGraph::RetimeGraph(std::vector<RetimeNode> nodes,
                         std::vector<std::vector<std::size_t>> queues,
                         std::vector<std::vector<std::int32_t>> ways)
    : nodes_(std::move(nodes)),
      queues_(std::move(queues)),
      ways_(std::move(ways)),
      chain_before_(nodes_.size()),
      at_(nodes_.size(), {-1, -1, -1}),
      start_(nodes_.size(), 0),
      head_(nodes_.size(), 0),
      waiting_for_(nodes_.size(), 0) {
  for (const RetimeNode& node : nodes_) {
    links_.push_back({node.length,
                      node.lo,
                      node.hi,
                      node.where,
                      node.queue,
                      {kNone, kNone, kNone},
                      {kNone, kNone, kNone},
                      node.fixed,
                      node.nowhere});
  }
  for (std::size_t queue = 0; queue < queues_.size(); ++queue) {
    link(static_cast<Index>(queue), 0, queues_[queue].size());
  }
  for (std::size_t node = 0; node < nodes_.size(); ++node) {
    for (const RetimeNode::Next& next : nodes_[node].next) {
      chain_before_[next.node].push_back({node, next.wait});
    }
  }
  order_.reserve(nodes_.size());
}

int RetimeGraph::slot_in(Index queue, std::size_t node) const {
  for (int slot = 0; slot < 3; ++slot) {
    if (links_[node].queue[at(slot)] == queue) return slot;
  }
  return 0;
}

void RetimeGraph::link(Index queue, std::size_t from, std::size_t until) {
  const auto& line = queues_[at(queue)];
  until = std::min(until, line.size());
  for (std::size_t place = from; place < until; ++place) {
    const auto slot = at(slot_in(queue, line[place]));
    Links& links = links_[line[place]];
    at_[line[place]][slot] = static_cast<std::int32_t>(place);
    links.before[slot] = place > 0 ? static_cast<Index>(line[place - 1]) : kNone;
    links.after[slot] = place + 1 < line.size() ? static_cast<Index>(line[place + 1]) : kNone;
  }
}

std::size_t RetimeGraph::place_in(Index queue, std::size_t node) const {
  return at(at_[node][at(slot_in(queue, node))]);
}

std::int32_t RetimeGraph::lag(std::size_t from, std::size_t to, int slot) const {
  const Links& a = links_[from];
  const Links& b = links_[to];
  if (slot == 2 || a.where < 0 || b.where < 0 || a.nowhere || b.nowhere) return 0;
  return ways_[at(a.where)][at(b.where)];
}

std::int32_t RetimeGraph::queue_allows(std::size_t node, int slot, Index& follower) const {
  const Links& self = links_[node];
  Index next = self.after[at(slot)];
  std::int32_t allowed = std::numeric_limits<std::int32_t>::max();
  std::int32_t eaten = 0;
  const Index queue = self.queue[at(slot)];
  while (next != kNone) {
    const auto other = at(next);
    const std::int32_t start = start_[other] - lag(node, other, slot) - eaten - self.length;
    if (start < allowed) {
      allowed = start;
      follower = next;
    }
    // past a meal the way goes on to where the person must be next
    if (slot == 2 || self.nowhere || !links_[other].nowhere) break;
    eaten += links_[other].length;
    next = links_[other].after[at(slot_in(queue, other))];
  }
  return allowed;
}

std::int32_t RetimeGraph::latest(std::size_t node) const {
  const Links& self = links_[node];
  std::int32_t start = self.hi - self.length;
  for (const RetimeNode::Next& next : nodes_[node].next) {
    start = std::min(start, start_[next.node] - next.wait - self.length);
  }
  Index follower = kNone;
  for (int slot = 0; slot < 3; ++slot) {
    if (self.after[at(slot)] == kNone) continue;
    start = std::min(start, queue_allows(node, slot, follower));
  }
  return start;
}

bool RetimeGraph::time() {
  // Kahn's order, from the last to the first: a node is timed when all that follows it is.
  order_.clear();
  for (std::size_t node = 0; node < links_.size(); ++node) {
    const Links& links = links_[node];
    const auto count = static_cast<std::int32_t>(nodes_[node].next.size()) +
                       (links.after[0] != kNone) + (links.after[1] != kNone) +
                       (links.after[2] != kNone);
    waiting_for_[node] = count;
    if (count == 0) order_.push_back(static_cast<Index>(node));
  }
  for (std::size_t next = 0; next < order_.size(); ++next) {
    const auto node = at(order_[next]);
    const Links& links = links_[node];
    const std::int32_t allowed = latest(node);
    start_[node] = links.fixed ? links.lo : allowed;
    if (start_[node] > allowed || start_[node] < links.lo) return false;
    for (const RetimeNode::Next& before : chain_before_[node]) {
      if (--waiting_for_[before.node] == 0) order_.push_back(static_cast<Index>(before.node));
    }
    for (const Index before : links.before) {
      if (before != kNone && --waiting_for_[at(before)] == 0) order_.push_back(before);
    }
  }
  return order_.size() == links_.size();
}

void RetimeGraph::work_out_heads() {
  for (std::size_t k = order_.size(); k-- > 0;) {
    const auto node = at(order_[k]);
    std::int32_t head = 0;
    for (const RetimeNode::Next& before : chain_before_[node]) {
      if (links_[before.node].fixed) continue;
      head = std::max(head, head_[before.node] + links_[before.node].length + before.wait);
    }
    for (int slot = 0; slot < 3; ++slot) {
      const Index before = links_[node].before[at(slot)];
      if (before == kNone || links_[at(before)].fixed) continue;
      head = std::max(head,
                      head_[at(before)] + links_[at(before)].length + lag(at(before), node, slot));
    }
    head_[node] = head;
  }
}

void RetimeGraph::critical_path(std::size_t node,
                                std::uint64_t pick,
                                std::vector<Tight>& path) const {
  path.clear();
  path.push_back({node, -1});
  while (path.size() <= nodes_.size()) {
    const std::size_t now = path.back().node;
    const Links& self = links_[now];
    if (self.fixed || end(now) == self.hi) return;
    bool found = false;
    pick = pick * 6364136223846793005ULL + 1442695040888963407ULL;  // Knuth's, to vary the choice
    const auto first = static_cast<int>((pick >> 33U) % 3);
    for (int k = 0; k < 3 && !found; ++k) {
      const int slot = (first + k) % 3;
      if (self.after[at(slot)] == kNone) continue;
      Index follower = kNone;
      if (queue_allows(now, slot, follower) != start_[now]) continue;
      path.back().slot = slot;
      path.push_back({at(follower), -1});
      found = true;
    }
    for (const RetimeNode::Next& next : nodes_[now].next) {
      if (found || start_[next.node] - next.wait - self.length != start_[now]) continue;
      path.push_back({next.node, -1});
      found = true;
    }
    if (!found) return;
  }
}

void RetimeGraph::shift_in(Index queue, std::size_t from, std::size_t to) {
  auto& line = queues_[at(queue)];
  const auto begin = line.begin();
  const auto f = static_cast<std::ptrdiff_t>(from);
  const auto t = static_cast<std::ptrdiff_t>(to);
  if (from < to) {
    std::rotate(begin + f, begin + f + 1, begin + t + 1);
  } else {
    std::rotate(begin + t, begin + f, begin + f + 1);
  }
  const auto [least, most] = std::minmax(from, to);
  link(queue, least > 0 ? least - 1 : 0, most + 2);
}

void RetimeGraph::move_to(std::size_t node, int slot, Index queue, std::size_t place) {
  const Index old = links_[node].queue[at(slot)];
  auto& from = queues_[at(old)];
  const auto left = at(at_[node][at(slot)]);
  from.erase(from.begin() + static_cast<std::ptrdiff_t>(left));
  auto& to = queues_[at(queue)];
  links_[node].queue[at(slot)] = queue;
  nodes_[node].queue[at(slot)] = queue;
  place = std::min(place, to.size());
  to.insert(to.begin() + static_cast<std::ptrdiff_t>(place), node);
  link(old, left > 0 ? left - 1 : 0, from.size());
  link(queue, place > 0 ? place - 1 : 0, to.size());
}

void RetimeGraph::refill(Index queue, int slot, const std::vector<std::size_t>& line) {
  queues_[at(queue)] = line;
  for (const std::size_t node : line) {
    const auto& own = links_[node].queue;
    // those that stand here in another slot (the person's own steps) stay as they are
    if (std::find(own.begin(), own.end(), queue) != own.end()) continue;
    links_[node].queue[at(slot)] = queue;
    nodes_[node].queue[at(slot)] = queue;
  }
  link(queue, 0, line.size());
}

}  // namespace gp
