#include "search/flow_queues.h"

#include <algorithm>
#include <optional>

namespace gp {

int FlowQueues::places_of(const Between::Node& node, bool off, std::size_t step) const {
  const auto& chain = between_.steps(node, off);
  const int places = problem_.production.stations[chain[step].at].places;
  const auto& staff = problem_.staff.of(node.look, off, step);
  return staff.empty() ? places : std::min(places, static_cast<int>(staff.size()));
}

void FlowQueues::add(const Between::Node& node, std::size_t day, bool off, const Comers& comers) {
  const auto& chain = between_.steps(node, off);
  if (chain.empty()) return;
  std::optional<Key> narrowest;
  int places = 1;
  double slowest = 0;
  // away from the scene
  std::int64_t between = off ? between_.way_out(node, day) : between_.way_in(node, day);
  for (std::size_t i = 0; i < chain.size(); ++i) {
    const std::size_t k = off ? i : chain.size() - 1 - i;
    const Step& step = chain[k];
    // the last wait before the scene is in the way there
    if (!off && i > 0) between += count(step.then_wait);
    const int here = places_of(node, off, k);
    const double each = static_cast<double>(count(step.minutes)) / here;
    if (each > slowest) {
      slowest = each;
      places = here;
      narrowest = {node.row.scene, off, step.at, count(step.minutes), between};
    }
    between += count(step.minutes);
    if (off) between += count(step.then_wait);
  }
  if (!narrowest) return;
  Queue& queue = queues_[*narrowest];
  queue.places = std::max(queue.places, places);
  if (queue.nodes.insert(&node).second) queue.heads += node.row.heads;
  queue.through.push_back(comers);
}

void FlowQueues::write(LinearProgram& program) {
  for (const auto& [key, queue] : queues_) write(key, queue, program);
  for (auto& [waits, shares] : shares_) {
    for (auto& [column, factor] : shares) factor = -1;
    shares.push_back({waits, 1});
    program.add_row(0, LinearProgram::kNone, shares);
  }
}

void FlowQueues::write(const Key& key, const Queue& queue, LinearProgram& program) {
  if (queue.heads <= queue.places) return;
  const auto heads = static_cast<double>(queue.heads);
  std::vector<LinearProgram::Term> all, waiting;
  double last = 0;
  for (std::int64_t turns = 0; turns * queue.places < queue.heads; ++turns) {
    last = static_cast<double>(turns * key.minutes);
    const std::size_t turn = program.add_column(0, queue.places);
    all.push_back({turn, -1});
    waiting.push_back({turn, -last});
  }
  double least = 0;
  std::map<std::size_t, std::vector<LinearProgram::Term>> busy;
  for (const Comers& comers : queue.through) {
    all.push_back({comers.column, 1});
    if (comers.waits) {
      busy[*comers.waits].push_back({comers.column, -last});
    } else {
      least = least == 0 ? comers.weight : std::min(least, comers.weight);
    }
  }
  program.add_row(0, 0, all);
  if (least > 0) waiting.push_back({program.add_column(least, last * heads), 1});
  // whoever does something else meanwhile waits no longer than the last
  for (auto& [waits, most] : busy) {
    const std::size_t share = program.add_column(0, last * heads);
    shares_[waits].push_back({share, 1});
    waiting.push_back({share, 1});
    most.push_back({share, 1});
    program.add_row(-LinearProgram::kNone, 0, most);
  }
  program.add_row(0, LinearProgram::kNone, waiting);
}

}  // namespace gp
