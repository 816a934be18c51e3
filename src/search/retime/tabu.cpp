#include "search/retime/tabu.h"

#include "search/retime/changes.h"
#include "search/retime/pools.h"

#include <algorithm>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

namespace gp {
namespace {

/// Neighbours whose full cost is worked out in a round, where an estimate does not do.
constexpr std::size_t kMostTimed = 40;
/// Best solutions kept to go on from.
constexpr std::size_t kElite = 16;
/// Rounds without gain after which it goes on from elsewhere.
constexpr std::uint64_t kPatience = 500;
/// Rounds for which a change may not be undone: kTenure and up to kTenureMore.
constexpr std::uint64_t kTenure = 6;
constexpr std::uint32_t kTenureMore = 4;
/// New starts without a better one among the best, after which all but the best are given up.
constexpr std::uint32_t kWornOut = 60;
/// Rounds between two dealings of the pools.
constexpr std::uint64_t kDealEvery = 50;

class Tabu {
 public:
  Tabu(RetimeGraph& graph,
       const RetimeAim& aim,
       std::int64_t enough,
       Random& random,
       std::uint64_t most_work,
       Stop& stop)
      : graph_(graph),
        aim_(aim),
        enough_(enough),
        random_(random),
        most_work_(most_work),
        stop_(stop),
        pools_(graph),
        best_(graph),
        best_cost_(aim.cost(graph)),
        forbidden_(kTable, 0) {}

  RetimeCost run() {
    std::uint64_t idle = 0;
    std::uint64_t since = 0;
    RetimeCost round_best = best_cost_;
    RetimeGraph round_graph = graph_;
    while (!over() && !done()) {
      const bool moved = step();
      ++round_;
      idle = moved ? 0 : idle + 1;
      if (idle > 100) break;  // nothing holds anybody back that could be changed
      if (const RetimeCost cost = aim_.cost(graph_); cost < round_best) {
        round_best = cost;
        round_graph = graph_;
        since = 0;
      } else if (++since > patience()) {
        keep(round_graph, round_best);
        start_again();
        round_best = aim_.cost(graph_);
        round_graph = graph_;
        since = 0;
      }
    }
    graph_ = best_;
    return best_cost_;
  }

 private:
  static constexpr std::size_t kTable = std::size_t{1} << 16U;

  bool over() { return work_ >= most_work_ || stop_.now(); }
  [[nodiscard]] bool done() const { return aim_.first_call_first && best_cost_.early <= enough_; }
  [[nodiscard]] std::uint64_t patience() const {
    return aim_.first_call_first ? kPatience : 300 + 10 * graph_.nodes().size();
  }

  bool timed() {
    work_ += graph_.nodes().size();
    return graph_.time();
  }

  /// The activity to bring later: mostly of whoever comes first of all where that counts most.
  std::optional<std::size_t> target() {
    firsts_.clear();
    std::int32_t earliest = std::numeric_limits<std::int32_t>::max();
    for (const RetimeAim::Person& person : aim_.people) {
      const auto& line = graph_.queues()[static_cast<std::size_t>(person.queue)];
      if (line.empty() || graph_.nodes()[line.front()].fixed || person.weight <= 0) continue;
      if (aim_.first_call_first) {
        const std::int32_t start = graph_.start(line.front());
        if (start > earliest) continue;
        if (start < earliest) firsts_.clear();
        earliest = start;
      }
      firsts_.push_back(line.front());
    }
    if (firsts_.empty()) return std::nullopt;
    return firsts_[random_.index(firsts_.size())];
  }

  /// Pairs are forgotten by their table place: two that share one are forbidden together, which
  /// costs a move now and then and no memory.
  static std::size_t key(std::uint64_t a, std::uint64_t b) {
    return static_cast<std::size_t>((a * 0x9e3779b97f4a7c15ULL ^ b * 0xc2b2ae3d27d4eb4fULL) >> 48U);
  }
  static std::uint64_t queue_key(RetimeGraph::Index queue) {
    return (std::uint64_t{1} << 40U) + static_cast<std::uint64_t>(queue);
  }

  template <class Each>
  void passed(const RetimeChange& change, Each each) const {
    const auto& line = graph_.queues()[static_cast<std::size_t>(change.queue)];
    const auto [least, most] = std::minmax(change.from, change.to);
    for (std::size_t place = least; place <= most; ++place) {
      if (line[place] != change.node) each(line[place]);
    }
  }

  [[nodiscard]] bool is_forbidden(const RetimeChange& change) const {
    if (change.kind == RetimeChange::Kind::move) {
      return forbidden_[key(change.node, queue_key(change.queue))] > round_;
    }
    bool found = false;
    const bool later = change.from < change.to;
    passed(change, [&](std::size_t other) {
      const std::size_t pair = later ? key(other, change.node) : key(change.node, other);
      found = found || forbidden_[pair] > round_;
    });
    return found;
  }

  /// What must not be done soon: to undo it.
  void forbid(const RetimeChange& change) {
    const std::uint64_t tenure = kTenure + random_.below(kTenureMore);
    if (change.kind == RetimeChange::Kind::move) {
      const auto old = graph_.queue_of(change.node, change.slot);
      forbidden_[key(change.node, queue_key(old))] = round_ + tenure;
      return;
    }
    const bool later = change.from < change.to;
    passed(change, [&](std::size_t other) {
      const std::size_t pair = later ? key(change.node, other) : key(other, change.node);
      forbidden_[pair] = round_ + tenure;
    });
  }

  /// What a change would bring, without making it where an estimate does.
  struct Value {
    bool right = true;
    RetimeCost cost;
  };
  Value value_of(const RetimeChange& change) {
    if (aim_.first_call_first && change.alone()) {
      return {true, {estimate(graph_, change), 0, 0}};
    }
    const RetimeChange back = apply(graph_, change);
    const bool right = timed();
    const RetimeCost cost = right ? aim_.cost(graph_) : RetimeCost{};
    apply(graph_, back);
    touched_ = true;
    if (!aim_.first_call_first) return {right, cost};
    return {right, {cost.early, 0, 0}};
  }

  bool step() {
    const auto node = target();
    changes_.clear();
    if (!node) return false;
    graph_.critical_path(*node, random_.next(), path_);
    if (aim_.first_call_first) graph_.work_out_heads();
    list_changes(graph_, path_, changes_);
    if (!aim_.first_call_first && changes_.size() > kMostTimed) {
      random_.shuffle(changes_);
      changes_.resize(kMostTimed);
    }
    values_.clear();
    // estimates read the timing as it stands: those that must be timed come after them
    touched_ = false;
    values_.resize(changes_.size());
    for (std::size_t i = 0; i < changes_.size(); ++i) {
      if (changes_[i].alone() && aim_.first_call_first) values_[i] = value_of(changes_[i]);
    }
    for (std::size_t i = 0; i < changes_.size() && !over(); ++i) {
      if (!changes_[i].alone() || !aim_.first_call_first) values_[i] = value_of(changes_[i]);
    }
    if (touched_) timed();
    while (true) {
      const auto chosen = choose();
      if (!chosen) return false;
      const RetimeChange change = changes_[*chosen];
      values_[*chosen].right = false;  // not again in this round
      forbid(change);
      const RetimeChange back = apply(graph_, change);
      if (timed()) break;
      apply(graph_, back);
      timed();
    }
    if (!pools_.empty() && round_ % kDealEvery == 0) {
      pools_.deal(graph_);
      timed();
    }
    const RetimeCost cost = aim_.cost(graph_);
    if (cost < best_cost_) {
      best_cost_ = cost;
      best_ = graph_;
    }
    return true;
  }

  std::optional<std::size_t> choose() {
    std::optional<std::size_t> chosen;
    std::uint32_t equals = 0;
    std::uint32_t possible = 0;
    std::optional<std::size_t> any;
    for (std::size_t i = 0; i < changes_.size(); ++i) {
      if (!values_[i].right) continue;
      if (random_.chance(1, ++possible)) any = i;
      const RetimeCost& cost = values_[i].cost;
      if (is_forbidden(changes_[i]) && !(cost < best_cost_)) continue;
      if (chosen && values_[*chosen].cost < cost) continue;
      if (chosen && cost == values_[*chosen].cost) {
        if (!random_.chance(1, ++equals)) continue;
      } else {
        equals = 1;
      }
      chosen = i;
    }
    return chosen ? chosen : any;
  }

  void keep(const RetimeGraph& graph, const RetimeCost& cost) {
    for (const Kept& kept : elite_) {
      if (kept.cost == cost && differing(kept.graph, graph) * 10 < graph.nodes().size()) return;
    }
    elite_.push_back({graph, cost});
    std::stable_sort(
        elite_.begin(), elite_.end(), [](const Kept& a, const Kept& b) { return a.cost < b.cost; });
    if (elite_.size() > kElite) elite_.pop_back();
    if (elite_.front().cost < elite_best_) {
      elite_best_ = elite_.front().cost;
      worn_ = 0;
    }
  }

  /// Neighbours in the queues of `a` that stand the other way round in `b`.
  static std::size_t differing(const RetimeGraph& a, const RetimeGraph& b) {
    std::size_t count = 0;
    for (const auto& line : a.queues()) {
      for (std::size_t i = 0; i + 1 < line.size(); ++i) {
        if (b.start(line[i]) > b.start(line[i + 1])) ++count;
      }
    }
    return count;
  }

  /// The first few from anywhere, the others from between two of the best.
  void start_again() {
    std::fill(forbidden_.begin(), forbidden_.end(), 0);
    if (++worn_ > kWornOut) {
      elite_.erase(elite_.begin() + 1, elite_.end());
      elite_best_ = {std::numeric_limits<std::int64_t>::max(), 0, 0};
      worn_ = 0;
    }
    if (elite_.size() < kElite / 2 || random_.chance(1, 10)) {
      graph_ = elite_[random_.index(elite_.size())].graph;
      timed();
      shake(static_cast<std::uint32_t>(graph_.nodes().size()) / 2 + 4);
      return;
    }
    const std::size_t from = random_.index(elite_.size());
    std::size_t to = random_.index(elite_.size() - 1);
    if (to >= from) ++to;
    graph_ = elite_[from].graph;
    timed();
    go_towards(elite_[to].graph);
    shake(2);
  }

  /// Swaps neighbours that stand the other way round in the goal, about half of the way there.
  /// Source: path relinking, Peng, Lü and Cheng 2015, doi:10.1016/j.cor.2014.08.006.
  void go_towards(const RetimeGraph& goal) {
    std::size_t left = 0;
    std::size_t wanted = 0;
    std::vector<std::pair<RetimeGraph::Index, std::size_t>> pairs;
    for (std::size_t round = 0; !over(); ++round) {
      pairs.clear();
      for (std::size_t queue = 0; queue < graph_.queues().size(); ++queue) {
        const auto& line = graph_.queues()[queue];
        for (std::size_t i = 0; i + 1 < line.size(); ++i) {
          if (goal.start(line[i]) <= goal.start(line[i + 1])) continue;
          if (graph_.nodes()[line[i]].fixed && graph_.nodes()[line[i + 1]].fixed) continue;
          pairs.emplace_back(static_cast<RetimeGraph::Index>(queue), i);
        }
      }
      if (round == 0) wanted = left = pairs.size() * (1 + random_.below(3)) / 2;
      if (pairs.empty() || left == 0 || round > 4 * wanted) return;
      const auto [queue, at] = pairs[random_.index(pairs.size())];
      graph_.shift_in(queue, at, at + 1);
      if (timed()) {
        --left;
      } else {
        graph_.shift_in(queue, at + 1, at);
        timed();
      }
    }
  }

  /// Some changes whatever they cost.
  void shake(std::uint32_t wanted) {
    for (std::uint32_t done = 0, tried = 0; done < wanted && tried < 10 * wanted; ++tried) {
      const auto node = target();
      if (!node) return;
      graph_.critical_path(*node, random_.next(), path_);
      graph_.work_out_heads();
      list_changes(graph_, path_, changes_);
      if (changes_.empty()) return;
      const RetimeChange back = apply(graph_, changes_[random_.index(changes_.size())]);
      if (timed()) {
        ++done;
      } else {
        apply(graph_, back);
        timed();
      }
    }
  }

  struct Kept {
    RetimeGraph graph;
    RetimeCost cost;
  };

  RetimeGraph& graph_;
  const RetimeAim& aim_;
  std::int64_t enough_;
  Random& random_;
  std::uint64_t most_work_;
  Stop& stop_;
  RetimePools pools_;
  RetimeGraph best_;
  RetimeCost best_cost_;
  std::vector<std::uint64_t> forbidden_;  ///< until which round, by pair
  std::vector<Kept> elite_;
  RetimeCost elite_best_{std::numeric_limits<std::int64_t>::max(), 0, 0};
  std::uint32_t worn_ = 0;
  std::uint64_t work_ = 0;
  std::uint64_t round_ = 0;
  bool touched_ = false;
  std::vector<RetimeGraph::Tight> path_;
  std::vector<RetimeChange> changes_;
  std::vector<Value> values_;
  std::vector<std::size_t> firsts_;
};

}  // namespace

RetimeCost improve(RetimeGraph& graph,
                   const RetimeAim& aim,
                   std::int64_t enough,
                   Random& random,
                   std::uint64_t most_work,
                   Stop& stop) {
  return Tabu(graph, aim, enough, random, most_work, stop).run();
}

}  // namespace gp
