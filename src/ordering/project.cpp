#include "ordering/project.h"

#include <algorithm>
#include <numeric>
#include <utility>

namespace gp {
namespace {

constexpr std::size_t kPopulation = 12;
/// Children without a better one after which the population begins anew, its best kept.
constexpr std::uint64_t kWornOut = 200;

using Order = std::vector<std::size_t>;

/// Generates schedules; keeps its memory from one to the next.
class Generator {
 public:
  explicit Generator(const ProjectProblem& problem)
      : problem_(problem),
        horizon_(std::accumulate(problem.minutes.begin(), problem.minutes.end(), 0) + 1),
        used_(problem.capacity.size()),
        after_(problem.tasks()) {
    for (std::size_t task = 0; task < problem.tasks(); ++task) {
      for (const std::size_t before : problem.before[task]) after_[before].push_back(task);
    }
  }

  [[nodiscard]] std::uint64_t made() const { return made_; }

  /// From the left, in this order.
  ProjectSchedule forward(const Order& order) {
    begin();
    ProjectSchedule schedule;
    schedule.start.assign(problem_.tasks(), 0);
    for (const std::size_t task : order) {
      std::int32_t start = 0;
      for (const std::size_t before : problem_.before[task]) {
        start = std::max(start, schedule.start[before] + problem_.minutes[before]);
      }
      start = first_room(task, start);
      take(task, start);
      schedule.start[task] = start;
      schedule.until = std::max(schedule.until, start + problem_.minutes[task]);
    }
    return schedule;
  }

  /// Pushed to the right within its own length and back to the left: never longer.
  ProjectSchedule justified(ProjectSchedule schedule) {
    Order order(problem_.tasks());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto end = [&](std::size_t task) {
      return schedule.start[task] + problem_.minutes[task];
    };
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return end(a) != end(b) ? end(a) > end(b) : schedule.start[a] > schedule.start[b];
    });
    begin();
    std::vector<std::int32_t> latest(problem_.tasks(), 0);
    for (const std::size_t task : order) {
      std::int32_t start = schedule.until - problem_.minutes[task];
      for (const std::size_t after : after_[task]) {
        start = std::min(start, latest[after] - problem_.minutes[task]);
      }
      start = last_room(task, start);
      take(task, start);
      latest[task] = start;
    }
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return latest[a] != latest[b] ? latest[a] < latest[b]
                                    : problem_.minutes[a] < problem_.minutes[b];
    });
    return forward(sound(order));
  }

  /// The order kept as it is but that nothing comes before what must precede it.
  Order sound(const Order& order) {
    std::vector<std::size_t> waiting(problem_.tasks());
    for (std::size_t task = 0; task < problem_.tasks(); ++task) {
      waiting[task] = problem_.before[task].size();
    }
    Order result;
    result.reserve(order.size());
    std::vector<char> done(problem_.tasks(), 0);
    for (bool any = true; any && result.size() < order.size();) {
      any = false;
      for (const std::size_t task : order) {
        if (done[task] != 0 || waiting[task] > 0) continue;
        done[task] = 1;
        any = true;
        result.push_back(task);
        for (const std::size_t after : after_[task]) --waiting[after];
      }
    }
    return result;
  }

 private:
  void begin() {
    ++made_;
    for (auto& line : used_) line.assign(static_cast<std::size_t>(horizon_), 0);
  }

  /// The last minute from `start` on, within the task's length, at which something it wants is out;
  /// -1: none. `first`: the first such minute instead.
  [[nodiscard]] std::int32_t out(std::size_t task, std::int32_t start, bool first) const {
    std::int32_t found = -1;
    for (const auto& use : problem_.uses[task]) {
      const std::int32_t room = problem_.capacity[use.resource] - use.amount;
      const auto& line = used_[use.resource];
      for (std::int32_t k = 0; k < problem_.minutes[task]; ++k) {
        const std::int32_t at = first ? start + k : start + problem_.minutes[task] - 1 - k;
        if (line[static_cast<std::size_t>(at)] <= room) continue;
        if (found < 0 || (first ? at < found : at > found)) found = at;
        break;
      }
    }
    return found;
  }

  [[nodiscard]] std::int32_t first_room(std::size_t task, std::int32_t start) const {
    for (std::int32_t at = out(task, start, false); at >= 0; at = out(task, start, false)) {
      start = at + 1;
    }
    return start;
  }

  /// Requires that it fits somewhere at or before `start`.
  [[nodiscard]] std::int32_t last_room(std::size_t task, std::int32_t start) const {
    for (std::int32_t at = out(task, start, true); at >= 0; at = out(task, start, true)) {
      start = at - problem_.minutes[task];
    }
    return start;
  }

  void take(std::size_t task, std::int32_t start) {
    for (const auto& use : problem_.uses[task]) {
      auto& line = used_[use.resource];
      for (std::int32_t k = 0; k < problem_.minutes[task]; ++k) {
        line[static_cast<std::size_t>(start + k)] += use.amount;
      }
    }
  }

  const ProjectProblem& problem_;
  std::int32_t horizon_;
  std::vector<std::vector<std::int32_t>> used_;  ///< by resource and minute
  std::vector<std::vector<std::size_t>> after_;
  std::uint64_t made_ = 0;
};

struct Member {
  Order order;  ///< by start, so that it says what its schedule is
  ProjectSchedule schedule;
};

class Population {
 public:
  Population(const ProjectProblem& problem, Random& random, std::uint64_t most, Stop& stop)
      : problem_(problem),
        random_(random),
        most_(most),
        stop_(stop),
        generator_(problem),
        bound_(project_bound(problem)) {}

  ProjectSchedule run() {
    Order listed(problem_.tasks());
    std::iota(listed.begin(), listed.end(), std::size_t{0});
    best_ = generator_.justified(generator_.forward(generator_.sound(listed)));
    while (!over()) {
      begin_anew();
      for (std::uint64_t since = 0; since < kWornOut && !over(); ++since) {
        if (breed()) since = 0;
      }
    }
    return best_;
  }

 private:
  bool over() { return best_.until <= bound_ || generator_.made() >= most_ || stop_.now(); }

  Member made(const Order& order) {
    Member member;
    member.schedule = generator_.justified(generator_.forward(order));
    member.order = order;
    std::stable_sort(member.order.begin(), member.order.end(), [&](std::size_t a, std::size_t b) {
      return member.schedule.start[a] < member.schedule.start[b];
    });
    if (member.schedule.until < best_.until) best_ = member.schedule;
    return member;
  }

  /// Any order, those with much behind them rather first.
  Order drawn() {
    Order order(problem_.tasks());
    std::iota(order.begin(), order.end(), std::size_t{0});
    random_.shuffle(order);
    return generator_.sound(order);
  }

  void begin_anew() {
    members_.clear();
    while (members_.size() < kPopulation && !over()) members_.push_back(made(drawn()));
    sort();
  }

  void sort() {
    std::stable_sort(members_.begin(), members_.end(), [](const Member& a, const Member& b) {
      return a.schedule.until < b.schedule.until;
    });
  }

  /// The mother's order with a stretch as the father has it.
  Order crossed(const Order& mother, const Order& father) {
    std::size_t from = random_.index(mother.size());
    std::size_t until = random_.index(mother.size());
    if (from > until) std::swap(from, until);
    Order child(mother.begin(), mother.begin() + static_cast<std::ptrdiff_t>(from));
    std::vector<char> taken(mother.size(), 0);
    for (const std::size_t task : child) taken[task] = 1;
    for (const std::size_t task : father) {  // the middle as the father has it
      if (child.size() > until) break;
      if (taken[task] != 0) continue;
      taken[task] = 1;
      child.push_back(task);
    }
    for (const std::size_t task : mother) {
      if (taken[task] == 0) child.push_back(task);
    }
    for (std::size_t k = 0; k + 1 < child.size(); ++k) {
      if (random_.chance(1, 10)) std::swap(child[k], child[k + 1]);
    }
    return generator_.sound(child);
  }

  /// A stretch of the order drawn anew: what is done about one time, in any order.
  Order stirred(const Order& order) {
    const std::size_t length = std::min<std::size_t>(order.size(), 3 + random_.below(10));
    const std::size_t from = random_.index(order.size() - length + 1);
    Order child = order;
    Order stretch(child.begin() + static_cast<std::ptrdiff_t>(from),
                  child.begin() + static_cast<std::ptrdiff_t>(from + length));
    random_.shuffle(stretch);
    std::copy(stretch.begin(), stretch.end(), child.begin() + static_cast<std::ptrdiff_t>(from));
    return generator_.sound(child);
  }

  /// One child; true: the best of the population got better.
  bool breed() {
    if (members_.size() < 2) return false;
    const auto pick = [&] {  // the better of two
      return std::min(random_.index(members_.size()), random_.index(members_.size()));
    };
    Member member =
        made(random_.chance(1, 2) ? crossed(members_[pick()].order, members_[pick()].order)
                                  : stirred(members_[pick()].order));
    const std::int32_t best = members_.front().schedule.until;
    const bool known = std::any_of(members_.begin(), members_.end(), [&](const Member& other) {
      return other.schedule.start == member.schedule.start;
    });
    if (known || member.schedule.until > members_.back().schedule.until) return false;
    members_.back() = std::move(member);
    sort();
    return members_.front().schedule.until < best;
  }

  const ProjectProblem& problem_;
  Random& random_;
  std::uint64_t most_;
  Stop& stop_;
  Generator generator_;
  std::int32_t bound_;
  ProjectSchedule best_;
  std::vector<Member> members_;  ///< the earliest first
};

}  // namespace

std::int32_t project_bound(const ProjectProblem& problem) {
  std::int32_t bound = 0;
  std::vector<std::int32_t> end(problem.tasks(), -1);
  // as often as there are tasks, at most: whatever their order
  for (bool changed = true; changed;) {
    changed = false;
    for (std::size_t task = 0; task < problem.tasks(); ++task) {
      std::int32_t start = 0;
      for (const std::size_t before : problem.before[task]) start = std::max(start, end[before]);
      if (start + problem.minutes[task] > end[task]) {
        end[task] = start + problem.minutes[task];
        changed = true;
      }
      bound = std::max(bound, end[task]);
    }
  }
  std::vector<std::int64_t> work(problem.capacity.size(), 0);
  for (std::size_t task = 0; task < problem.tasks(); ++task) {
    for (const auto& use : problem.uses[task]) {
      work[use.resource] += std::int64_t{use.amount} * problem.minutes[task];
    }
  }
  for (std::size_t resource = 0; resource < work.size(); ++resource) {
    const std::int64_t capacity = std::max(1, problem.capacity[resource]);
    bound = std::max(bound, static_cast<std::int32_t>((work[resource] + capacity - 1) / capacity));
  }
  return bound;
}

ProjectSchedule in_turn(const ProjectProblem& problem, const std::vector<std::size_t>& order) {
  return Generator(problem).forward(order);
}

ProjectSchedule search_project(const ProjectProblem& problem,
                               Random& random,
                               std::uint64_t most_schedules,
                               Stop& stop) {
  if (problem.tasks() == 0) return {};
  return Population(problem, random, most_schedules, stop).run();
}

}  // namespace gp
