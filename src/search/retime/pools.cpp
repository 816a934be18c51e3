#include "search/retime/pools.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace gp {

RetimePools::RetimePools(const RetimeGraph& graph) {
  std::map<std::pair<int, std::vector<RetimeGraph::Index>>, std::size_t> known;
  const auto& nodes = graph.nodes();
  for (const int slot : {1, 2}) {
    for (std::size_t node = 0; node < nodes.size(); ++node) {
      const auto& queues = slot == 1 ? nodes[node].helpers : nodes[node].chairs;
      if (queues.size() < 2 || nodes[node].fixed) continue;
      const auto [entry, fresh] = known.try_emplace({slot, queues}, pools_.size());
      if (fresh) pools_.push_back({slot, queues, {}, {}});
      pools_[entry->second].members.push_back(node);
    }
  }
  for (Pool& pool : pools_) {
    pool.stuck.resize(pool.queues.size());
    const std::set<std::size_t> members(pool.members.begin(), pool.members.end());
    for (std::size_t k = 0; k < pool.queues.size(); ++k) {
      for (const std::size_t node : graph.queues()[static_cast<std::size_t>(pool.queues[k])]) {
        if (!members.contains(node)) pool.stuck[k].push_back(node);
      }
    }
  }
  // Pools that share a queue would see each other's members come and go: those are left alone.
  std::map<RetimeGraph::Index, int> used;
  for (const Pool& pool : pools_) {
    for (const auto queue : pool.queues) ++used[queue];
  }
  std::erase_if(pools_, [&](const Pool& pool) {
    return std::any_of(
        pool.queues.begin(), pool.queues.end(), [&](auto queue) { return used[queue] > 1; });
  });
}

void RetimePools::deal(RetimeGraph& graph) {
  for (Pool& pool : pools_) deal(graph, pool);
}

void RetimePools::deal(RetimeGraph& graph, Pool& pool) {
  const auto earlier = [&](std::size_t a, std::size_t b) {
    return graph.start(a) != graph.start(b) ? graph.start(a) < graph.start(b) : a < b;
  };
  std::sort(pool.members.begin(), pool.members.end(), earlier);
  const std::size_t count = pool.queues.size();
  lines_.resize(std::max(lines_.size(), count));
  for (std::size_t k = 0; k < count; ++k) {
    lines_[k].clear();
    // others of the queue may have been moved there or away since
    std::sort(pool.stuck[k].begin(), pool.stuck[k].end(), earlier);
  }
  std::vector<std::size_t> next_stuck(count, 0);
  const auto fits_after = [&](std::size_t a, std::size_t b) {
    return graph.end(a) + graph.lag(a, b, pool.slot) <= graph.start(b);
  };
  for (const std::size_t node : pool.members) {
    std::size_t best = count;
    bool best_follows = false;
    std::int32_t best_end = 0;
    for (std::size_t k = 0; k < count; ++k) {
      auto& line = lines_[k];
      while (next_stuck[k] < pool.stuck[k].size() && earlier(pool.stuck[k][next_stuck[k]], node)) {
        line.push_back(pool.stuck[k][next_stuck[k]++]);
      }
      if (!line.empty() && !fits_after(line.back(), node)) continue;
      if (next_stuck[k] < pool.stuck[k].size() && !fits_after(node, pool.stuck[k][next_stuck[k]])) {
        continue;
      }
      // whose own steps these are cannot help with them
      const bool own = graph.queue_of(node, 0) == pool.queues[k];
      if (own) continue;
      bool follows = false;
      if (!line.empty()) {
        for (int slot = 0; slot < 3; ++slot) {
          if (slot == pool.slot) continue;
          const auto before = graph.before_in(node, slot);
          follows = follows || (before >= 0 && static_cast<std::size_t>(before) == line.back());
        }
      }
      const std::int32_t end = line.empty() ? -1'000'000'000 : graph.end(line.back());
      if (best == count || (follows && !best_follows) ||
          (follows == best_follows && end < best_end)) {
        best = k;
        best_follows = follows;
        best_end = end;
      }
    }
    if (best == count) return;  // fits nowhere in this order: as it was
    lines_[best].push_back(node);
  }
  for (std::size_t k = 0; k < count; ++k) {
    while (next_stuck[k] < pool.stuck[k].size())
      lines_[k].push_back(pool.stuck[k][next_stuck[k]++]);
    graph.refill(pool.queues[k], pool.slot, lines_[k]);
  }
}

}  // namespace gp
