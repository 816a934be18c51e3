#include "search/retime/aim.h"

#include <algorithm>
#include <limits>

namespace gp {

RetimeCost RetimeAim::cost(const RetimeGraph& graph) const {
  RetimeCost sum;
  std::int64_t first = std::numeric_limits<std::int64_t>::max();
  for (const Person& person : people) {
    const auto& line = graph.queues()[static_cast<std::size_t>(person.queue)];
    if (line.empty()) continue;
    const std::int32_t start = graph.start(line.front());
    const std::int32_t called = call(start, graph.nodes()[line.front()].where);
    sum.rounded -= person.weight * called;
    sum.exact -= person.weight * start;
    first = std::min<std::int64_t>(first, called);
    if (first_call_first) continue;
    // who is given somebody else's work may have to stay for it
    const std::int64_t other_end = person.weight * graph.end(line.back());
    sum.rounded += other_end;
    sum.exact += other_end;
  }
  if (first_call_first && first < std::numeric_limits<std::int64_t>::max()) sum.early = -first;
  return sum;
}

}  // namespace gp
