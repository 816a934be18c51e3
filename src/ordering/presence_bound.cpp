#include "ordering/presence_bound.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstddef>
#include <limits>

namespace gp {
namespace {

constexpr int kGroup = 5;  // 2^5 subsets: stronger is slower than it is worth

std::vector<std::int64_t> works(const PresenceProblem& problem) {
  const SetSums weight(problem.weight);
  std::vector<std::int64_t> result(problem.scenes());
  for (std::size_t scene = 0; scene < result.size(); ++scene) {
    result[scene] = problem.minutes[scene] * weight(problem.cast[scene]);
  }
  return result;
}

}  // namespace

PresenceBound::PresenceBound(const PresenceProblem& problem)
    : problem_(problem),
      minutes_(problem.minutes),
      weight_(problem.weight),
      work_(works(problem)),
      scenes_(sets_of_each(problem.cast, problem.people())),
      not_waiting_(sets_of_each(problem.unpaid, problem.people())) {
  for (std::size_t person = 0; person < problem.people(); ++person) {
    not_waiting_[person] |= scenes_[person];
  }
}

PeopleSet PresenceBound::people_of(SceneSet scenes) const {
  PeopleSet people = 0;
  while (scenes != 0) people |= problem_.cast[static_cast<std::size_t>(take_lowest(scenes))];
  return people;
}

/// Over the orders in which the group leaves: whoever leaves last waits in the scenes of those
/// before them. Dynamic programming over who has left.
std::int64_t PresenceBound::group(const int* people,
                                  int size,
                                  SceneSet middle,
                                  const Weights& weight) const {
  std::array<std::int64_t, 1U << kGroup> least{};
  std::array<SceneSet, 1U << kGroup> of{};
  const std::size_t all = (std::size_t{1} << static_cast<unsigned>(size)) - 1;
  for (std::size_t left = 1; left <= all; ++left) {
    const auto lowest = static_cast<std::size_t>(std::countr_zero(left));
    of[left] = of[left & (left - 1)] | (scenes_[static_cast<std::size_t>(people[lowest])] & middle);
    least[left] = std::numeric_limits<std::int64_t>::max();
    for (std::size_t rest = left; rest != 0; rest &= rest - 1) {
      const auto last = static_cast<std::size_t>(std::countr_zero(rest));
      const auto person = static_cast<std::size_t>(people[last]);
      const std::size_t others = left ^ (std::size_t{1} << last);
      const std::int64_t value =
          least[others] + weight[person] * minutes_(of[others] & ~not_waiting_[person]);
      least[left] = std::min(least[left], value);
    }
  }
  return least[all];
}

std::int64_t PresenceBound::one_side(PeopleSet side, SceneSet middle, const Weights& weight) const {
  std::array<int, 64> people{};
  int size = 0;
  while (side != 0) people[static_cast<std::size_t>(size++)] = take_lowest(side);
  if (size < 2) return 0;
  if (size > kGroup) {
    // those with most to lose together
    std::array<std::int64_t, 64> value{};
    for (int i = 0; i < size; ++i) {
      const auto person = static_cast<std::size_t>(people[static_cast<std::size_t>(i)]);
      value[person] = weight[person] * minutes_(scenes_[person] & middle);
    }
    std::sort(people.begin(), people.begin() + size, [&](int a, int b) {
      const auto x = static_cast<std::size_t>(a);
      const auto y = static_cast<std::size_t>(b);
      return value[x] != value[y] ? value[x] > value[y] : a < b;
    });
  }
  std::int64_t sum = 0;
  for (int i = 0; i + 1 < size; i += kGroup) {
    sum += group(people.data() + i, std::min(kGroup, size - i), middle, weight);
  }
  return sum;
}

std::int64_t PresenceBound::certain(const PresenceGap& gap) const {
  std::int64_t sum = work_(gap.middle);
  const std::int64_t whole = minutes_(gap.middle);
  for (PeopleSet through = gap.left & gap.right; through != 0;) {
    const auto person = static_cast<std::size_t>(take_lowest(through));
    sum += problem_.weight[person] * (whole - minutes_(not_waiting_[person] & gap.middle));
  }
  return sum;
}

std::int64_t PresenceBound::operator()(const PresenceGap& gap, PeopleSet people) const {
  const SceneSet middle = gap.middle;
  PeopleSet left = gap.left & ~gap.right & people;
  PeopleSet right = gap.right & ~gap.left & people;
  Weights weight{};
  for (PeopleSet x = left | right; x != 0;) {
    const auto person = static_cast<std::size_t>(take_lowest(x));
    weight[person] = problem_.weight[person];
  }
  std::int64_t waiting = one_side(left, middle, weight) + one_side(right, middle, weight);
  // pairs across, the dearest first; what a pair counts of a person's weight is taken off
  std::int64_t pairs = 0;
  for (;;) {
    std::int64_t dearest = 0;
    int from_left = -1;
    int from_right = -1;
    for (PeopleSet x = left; x != 0;) {
      const int a = take_lowest(x);
      const auto a_at = static_cast<std::size_t>(a);
      for (PeopleSet y = right; y != 0;) {
        const int b = take_lowest(y);
        const auto b_at = static_cast<std::size_t>(b);
        if ((scenes_[a_at] & scenes_[b_at] & middle) == 0) continue;
        const std::int64_t value = std::min(weight[a_at], weight[b_at]) *
                                   minutes_(middle & ~(not_waiting_[a_at] | not_waiting_[b_at]));
        if (value > dearest) {
          dearest = value;
          from_left = a;
          from_right = b;
        }
      }
    }
    if (from_left < 0) break;
    pairs += dearest;
    auto& a = weight[static_cast<std::size_t>(from_left)];
    auto& b = weight[static_cast<std::size_t>(from_right)];
    const std::int64_t counted = std::min(a, b);
    a -= counted;
    b -= counted;
    if (a == 0) left &= ~just(from_left);
    if (b == 0) right &= ~just(from_right);
    waiting =
        std::max(waiting, pairs + one_side(left, middle, weight) + one_side(right, middle, weight));
  }
  return certain(gap) + waiting;
}

}  // namespace gp
