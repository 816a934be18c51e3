#include "search/string_bound.h"

#include <algorithm>
#include <deque>
#include <limits>
#include <map>
#include <optional>
#include <utility>

namespace gp {
namespace {

constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 4;

class StringBound {
 public:
  StringBound(const Problem& problem, const Between& between)
      : problem_(problem),
        between_(between),
        nodes_(between.nodes()),
        prices_(between.most_going_on().size()) {
    for (const Node& node : nodes_) {
      begin_.push_back(least_over_days(node, node, [&](std::size_t day) {
                         return std::optional(between_.before(node, day));
                       }).value_or(0));
      end_.push_back(least_over_days(node, node, [&](std::size_t day) {
                       return std::optional(between_.after(node, day));
                     }).value_or(0));
    }
    find_savings();
  }

  std::int64_t least() {
    std::int64_t apart = 0;
    for (std::size_t n = 0; n < nodes_.size(); ++n) {
      apart += nodes_[n].row.heads * (begin_[n] + end_[n]);
    }
    const std::int64_t most = between_.most_going_on_of_all();
    std::int64_t saved = most_saved(most);
    // Any prices give a bound; those that hold the sorts of heads to what they may give the best.
    for (const std::int64_t step : {8, 8, 4, 4, 2, 2, 1, 1}) {
      for (std::size_t sort = 0; sort < prices_.size(); ++sort) {
        const std::int64_t over = within_[sort] - between_.most_going_on()[sort];
        if (over > 0) prices_[sort] += step;
        if (over < 0) prices_[sort] = std::max<std::int64_t>(0, prices_[sort] - step);
      }
      saved = std::min(saved, most_saved(most));
    }
    return std::max<std::int64_t>(0, apart - saved);
  }

 private:
  using Node = Between::Node;
  using Rows = std::vector<std::vector<std::int64_t>>;

  /// The least over the days on which both scenes could be; none: there is no such day.
  /// \param measure  minutes, or none, of a day
  template <class Measure>
  std::optional<std::int64_t> least_over_days(const Node& a,
                                              const Node& b,
                                              const Measure& measure) const {
    std::optional<std::int64_t> least;
    for (std::size_t d = 0; d < problem_.days.size(); ++d) {
      if (!problem_.open_on(a.row.scene, d) || !problem_.open_on(b.row.scene, d)) continue;
      const std::optional<std::int64_t> minutes = measure(d);
      if (minutes && (!least || *minutes < *least)) least = minutes;
    }
    return least;
  }

  [[nodiscard]] Span hours(const Node& node, std::size_t day) const {
    const auto& windows = problem_.windows[day][node.row.scene];
    return {windows.front().from, windows.back().until};
  }

  [[nodiscard]] bool same_person_may(const Slot& a, const Slot& b) const {
    return std::any_of(
        a.candidates.begin(), a.candidates.end(), [&](PersonId who) { return b.may(who); });
  }

  /// What going on from each slot to each saves against ending a day and beginning another; at
  /// most 0: not worth it, or not possible.
  void find_savings() {
    saved_.assign(nodes_.size(), std::vector<std::int64_t>(nodes_.size(), 0));
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      for (std::size_t j = 0; j < nodes_.size(); ++j) {
        const Node& from = nodes_[i];
        const Node& to = nodes_[j];
        const auto least =
            least_over_days(from, to, [&](std::size_t day) -> std::optional<std::int64_t> {
              const auto gap = between_.gap(from, to, day, hours(from, day), hours(to, day));
              if (!gap) return std::nullopt;
              return gap->minutes;
            });
        if (!least || !same_person_may(*from.row.slot, *to.row.slot)) continue;
        saved_[i][j] = end_[i] + begin_[j] - *least;
      }
    }
  }

  /// The same at the prices of the sorts of heads.
  [[nodiscard]] Rows priced_savings() const {
    Rows saved = saved_;
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      for (std::size_t j = 0; j < nodes_.size(); ++j) {
        if (nodes_[i].sort == nodes_[j].sort) saved[i][j] -= prices_[nodes_[i].sort];
      }
    }
    return saved;
  }

  /// The most that `pairs` heads going on can save, at those prices: one pair of slots after
  /// the other, each as many heads as fit, by the path that saves most. Leaves in within_ how many
  /// go on within each sort.
  [[nodiscard]] std::int64_t most_saved(std::int64_t pairs) {
    const std::size_t n = nodes_.size();
    const Rows saved = priced_savings();
    Rows flow(n, std::vector<std::int64_t>(n, 0));
    std::vector<std::int64_t> out(n);
    std::vector<std::int64_t> in(n);
    std::vector<std::vector<std::size_t>> worth_it(n);  // where heads of a slot may go on to
    std::vector<std::vector<std::size_t>> feeding(n);   // from where heads have gone on to it
    for (std::size_t i = 0; i < n; ++i) {
      out[i] = in[i] = nodes_[i].row.heads;
      for (std::size_t j = 0; j < n; ++j) {
        if (saved[i][j] > 0) worth_it[i].push_back(j);
      }
    }
    std::int64_t sum = 0;
    while (pairs > 0) {
      // longest paths by saving: whatever got longer is looked at again
      std::vector<std::int64_t> row(n, -kFar);
      std::vector<std::int64_t> column(n, -kFar);
      std::vector<std::size_t> row_from(n, n);
      std::vector<std::size_t> column_from(n, n);
      std::deque<std::size_t> longer;
      std::vector<char> waits(n, 0);
      const auto look_again = [&](std::size_t i) {
        if (std::exchange(waits[i], 1) == 0) longer.push_back(i);
      };
      for (std::size_t i = 0; i < n; ++i) {
        if (out[i] == 0) continue;
        row[i] = 0;
        look_again(i);
      }
      while (!longer.empty()) {
        const std::size_t i = longer.front();
        longer.pop_front();
        waits[i] = 0;
        for (const std::size_t j : worth_it[i]) {
          if (row[i] + saved[i][j] <= column[j]) continue;
          column[j] = row[i] + saved[i][j];
          column_from[j] = i;
          for (const std::size_t k : feeding[j]) {
            if (flow[k][j] == 0 || column[j] - saved[k][j] <= row[k]) continue;
            row[k] = column[j] - saved[k][j];
            row_from[k] = j;
            look_again(k);
          }
        }
      }
      std::size_t end = n;
      for (std::size_t j = 0; j < n; ++j) {
        if (in[j] > 0 && column[j] > 0 && (end == n || column[j] > column[end])) end = j;
      }
      if (end == n) break;
      std::int64_t amount = std::min(pairs, in[end]);
      std::size_t start = column_from[end];
      while (row_from[start] != n) {
        amount = std::min(amount, flow[start][row_from[start]]);
        start = column_from[row_from[start]];
      }
      amount = std::min(amount, out[start]);
      for (std::size_t j = end;;) {
        const std::size_t i = column_from[j];
        if (flow[i][j] == 0) feeding[j].push_back(i);
        flow[i][j] += amount;
        if (i == start) break;
        flow[i][row_from[i]] -= amount;
        j = row_from[i];
      }
      out[start] -= amount;
      in[end] -= amount;
      pairs -= amount;
      sum += amount * column[end];
    }
    within_.assign(prices_.size(), 0);
    for (std::size_t i = 0; i < n; ++i) {
      for (std::size_t j = 0; j < n; ++j) {
        if (nodes_[i].sort == nodes_[j].sort) within_[nodes_[i].sort] += flow[i][j];
      }
    }
    for (std::size_t sort = 0; sort < prices_.size(); ++sort) {
      sum += prices_[sort] * between_.most_going_on()[sort];
    }
    return sum;
  }

  const Problem& problem_;
  const Between& between_;
  const std::vector<Node>& nodes_;
  std::vector<std::int64_t> begin_, end_;  ///< minutes before and after, alone on a day
  Rows saved_;
  /// By sort of heads: of each head that goes on, a Lagrange multiplier [min]; and how many do, as
  /// last solved.
  std::vector<std::int64_t> prices_, within_;
};

}  // namespace

std::int64_t least_between(const Problem& problem, const Between& between) {
  return StringBound(problem, between).least();
}

}  // namespace gp
