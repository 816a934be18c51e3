#include "model/circles.h"

#include <algorithm>
#include <deque>

namespace gp {
namespace {

using Arrows = std::vector<std::vector<std::size_t>>;
constexpr std::size_t kNone = static_cast<std::size_t>(-1);

/// The component of each node, by Tarjan's method with a stack of its own: a chain of thousands of
/// scenes must not end the program's.
std::vector<std::size_t> components(const Arrows& arrows) {
  struct Visit {
    std::size_t node;
    std::size_t next = 0;  // arrow to follow
  };
  std::vector<std::size_t> component(arrows.size(), kNone);
  std::vector<std::size_t> number(arrows.size(), kNone);
  std::vector<std::size_t> low(arrows.size(), 0);
  std::vector<std::size_t> open;
  std::vector<Visit> path;
  std::size_t numbered = 0;
  std::size_t found = 0;
  const auto enter = [&](std::size_t node) {
    number[node] = low[node] = numbered++;
    open.push_back(node);
    path.push_back({node});
  };
  for (std::size_t root = 0; root < arrows.size(); ++root) {
    if (number[root] != kNone) continue;
    enter(root);
    while (!path.empty()) {
      const std::size_t node = path.back().node;
      if (path.back().next < arrows[node].size()) {
        const std::size_t to = arrows[node][path.back().next++];
        if (number[to] == kNone) {
          enter(to);
        } else if (component[to] == kNone) {
          low[node] = std::min(low[node], number[to]);
        }
        continue;
      }
      path.pop_back();
      if (!path.empty()) low[path.back().node] = std::min(low[path.back().node], low[node]);
      if (low[node] != number[node]) continue;
      for (std::size_t last = kNone; last != node;) {
        last = open.back();
        open.pop_back();
        component[last] = found;
      }
      ++found;
    }
  }
  return component;
}

/// The shortest way from `start` back to it inside its component; empty where there is none.
std::vector<std::size_t> round_trip(const Arrows& arrows,
                                    const std::vector<std::size_t>& component,
                                    std::size_t start,
                                    std::vector<std::size_t>& from) {
  std::deque<std::size_t> queue = {start};
  while (!queue.empty()) {
    const std::size_t node = queue.front();
    queue.pop_front();
    for (const std::size_t to : arrows[node]) {
      if (to == start) {
        std::vector<std::size_t> way;
        for (std::size_t at = node; at != start; at = from[at]) way.push_back(at);
        way.push_back(start);
        std::reverse(way.begin(), way.end());
        return way;
      }
      if (component[to] != component[start] || from[to] != kNone) continue;
      from[to] = node;
      queue.push_back(to);
    }
  }
  return {};
}

}  // namespace

std::vector<std::vector<std::size_t>> circles(const Arrows& arrows) {
  const std::vector<std::size_t> component = components(arrows);
  std::vector<bool> done(arrows.size(), false);  // by component
  std::vector<std::size_t> from(arrows.size(), kNone);
  std::vector<std::vector<std::size_t>> result;
  for (std::size_t node = 0; node < arrows.size(); ++node) {
    if (done[component[node]]) continue;
    done[component[node]] = true;  // every node of a knot lies on a circle, so the first will do
    if (auto way = round_trip(arrows, component, node, from); !way.empty()) {
      result.push_back(std::move(way));
    }
  }
  return result;
}

}  // namespace gp
