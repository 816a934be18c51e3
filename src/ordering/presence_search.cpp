#include "ordering/presence_search.h"

#include "ordering/sets.h"

#include <algorithm>
#include <cstddef>

namespace gp {
namespace {

/// presence() without its loops over people.
class Pricing {
 public:
  explicit Pricing(const PresenceProblem& problem)
      : problem_(problem), weight_(problem.weight), later_(problem.scenes() + 1, 0) {}

  std::int64_t operator()(const std::vector<int>& order) {
    for (std::size_t i = order.size(); i-- > 0;) later_[i] = later_[i + 1] | cast(order[i]);
    std::int64_t sum = 0;
    PeopleSet begun = 0;
    for (std::size_t i = 0; i < order.size(); ++i) {
      begun |= cast(order[i]);
      const auto scene = static_cast<std::size_t>(order[i]);
      const auto waiting = begun & later_[i + 1] & ~problem_.unpaid[scene];
      sum += problem_.minutes[scene] * weight_(problem_.cast[scene] | waiting);
    }
    return sum;
  }

 private:
  [[nodiscard]] PeopleSet cast(int scene) const {
    return problem_.cast[static_cast<std::size_t>(scene)];
  }
  const PresenceProblem& problem_;
  SetSums weight_;
  std::vector<PeopleSet> later_;
};

bool keeps_before(const PresenceProblem& problem, const std::vector<int>& order) {
  SceneSet done = 0;
  for (const int scene : order) {
    if ((problem.before[static_cast<std::size_t>(scene)] & ~done) != 0) return false;
    done |= SceneSet{1} << static_cast<unsigned>(scene);
  }
  return true;
}

class Searching {
 public:
  Searching(const PresenceProblem& problem, Random& random, std::uint64_t most, Stop& stop)
      : problem_(problem), random_(random), most_(most), stop_(stop), price_(problem) {
    for (const SceneSet before : problem.before) free_ = free_ && before == 0;
  }

  PresenceOrder run(const std::vector<int>& first) {
    PresenceOrder best{first, price_(first)};
    PresenceOrder now = best;
    descend(now);
    best = now;
    while (!over() && problem_.scenes() > 2) {
      now = best;
      shake(now);
      descend(now);
      if (now.value < best.value) best = now;
    }
    return best;
  }

 private:
  bool over() { return tried_ >= most_ || stop_.now(); }

  /// Takes `trial_` when it is better.
  bool better(PresenceOrder& now) {
    ++tried_;
    const std::int64_t value = price_(trial_);
    if (value >= now.value || (!free_ && !keeps_before(problem_, trial_))) return false;
    now.order.swap(trial_);
    now.value = value;
    return true;
  }

  void descend(PresenceOrder& now) {
    bool gained = true;
    while (gained && !over()) {
      gained = false;
      const std::size_t size = now.order.size();
      for (std::size_t block = 1; block <= 3 && block < size; ++block) {
        for (std::size_t from = 0; from + block <= size && !over(); ++from) {
          for (std::size_t to = 0; to + block <= size; ++to) {
            if (to == from) continue;
            trial_ = now.order;
            const auto begin = trial_.begin();
            const auto i = static_cast<std::ptrdiff_t>(from);
            const auto j = static_cast<std::ptrdiff_t>(to);
            const auto b = static_cast<std::ptrdiff_t>(block);
            if (j > i) {
              std::rotate(begin + i, begin + i + b, begin + j + b);
            } else {
              std::rotate(begin + j, begin + i, begin + i + b);
            }
            if (better(now)) gained = true;
          }
        }
      }
    }
  }

  void shake(PresenceOrder& now) {
    const auto size = static_cast<std::uint32_t>(now.order.size());
    const std::uint32_t swaps = 2 + random_.below(3);
    for (std::uint32_t k = 0; k < swaps; ++k) {
      trial_ = now.order;
      std::swap(trial_[random_.below(size)], trial_[random_.below(size)]);
      if (free_ || keeps_before(problem_, trial_)) now.order = trial_;
    }
    now.value = price_(now.order);
    ++tried_;
  }

  const PresenceProblem& problem_;
  Random& random_;
  std::uint64_t most_;
  Stop& stop_;
  Pricing price_;
  bool free_ = true;  ///< no `before` at all
  std::uint64_t tried_ = 0;
  std::vector<int> trial_;
};

}  // namespace

PresenceOrder search_presence(const PresenceProblem& problem,
                              const std::vector<int>& first,
                              Random& random,
                              std::uint64_t most,
                              Stop& stop) {
  return Searching(problem, random, most, stop).run(first);
}

}  // namespace gp
