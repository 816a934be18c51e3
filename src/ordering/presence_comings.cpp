#include "ordering/presence_comings.h"

#include <algorithm>
#include <bit>
#include <limits>

namespace gp {
namespace {

constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max();

std::uint32_t lowest_of(std::uint32_t group) {
  return group & (~group + 1);
}

}  // namespace

ComingsBound::ComingsBound(const PresenceProblem& problem)
    : problem_(problem),
      minutes_(problem.minutes),
      scenes_(sets_of_each(problem.cast, problem.people())),
      unpaid_(sets_of_each(problem.unpaid, problem.people())) {
  for (std::size_t person = 0; person < problem.people(); ++person) {
    unpaid_[person] &= ~scenes_[person];
  }
}

bool ComingsBound::reaches(const PresenceGap& gap,
                           PeopleSet people,
                           std::int64_t wanted,
                           Stop& stop) {
  if (wanted <= 0) return true;
  for (const std::size_t most : {kSide - 2, kSide - 1, kSide}) {
    const bool all = choose(gap, people, most);
    if (try_chosen(gap.middle, wanted, stop)) return true;
    if (all) return false;
  }
  return false;
}

/// Those with most to lose, so many on each side. \return whether that is everybody
bool ComingsBound::choose(const PresenceGap& gap, PeopleSet people, std::size_t most) {
  std::array<std::int64_t, 64> worths{};
  std::array<std::size_t, 64> order{};
  std::size_t size = 0;
  for (PeopleSet open = people & ~(gap.left & gap.right); open != 0;) {
    const auto person = static_cast<std::size_t>(take_lowest(open));
    worths[person] = worth(person, gap.middle);
    order[size++] = person;
  }
  std::sort(order.begin(),
            order.begin() + static_cast<std::ptrdiff_t>(size),
            [&](std::size_t a, std::size_t b) {
              return worths[a] != worths[b] ? worths[a] > worths[b] : a < b;
            });
  leaving_.size = coming_.size = 0;
  leaving_.both = coming_.both = 0;
  both_ = 0;
  bool all = true;
  for (std::size_t i = 0; i < size; ++i) {
    const std::size_t person = order[i];
    const bool leaves = (gap.right >> person & 1U) == 0;
    const bool comes = (gap.left >> person & 1U) == 0;
    if ((leaves && leaving_.size == most) || (comes && coming_.size == most)) {
      all = false;
      continue;
    }
    if (leaves && comes) {
      leaving_.both |= Group{1} << leaving_.size;
      coming_.both |= Group{1} << coming_.size;
      both_ += problem_.weight[person];
    }
    if (leaves) leaving_.people[leaving_.size++] = person;
    if (comes) coming_.people[coming_.size++] = person;
  }
  leaving_.fill(problem_);
  coming_.fill(problem_);
  return all;
}

void ComingsBound::Side::fill(const PresenceProblem& problem) {
  weight[0] = alone[0] = 0;
  for (Group group = 1; group <= all(); ++group) {
    const auto first = static_cast<std::size_t>(std::countr_zero(group));
    weight[group] = weight[group & (group - 1)] + problem.weight[people[first]];
    alone[group] = alone[group & (group - 1)] +
                   ((both >> first & 1U) != 0 ? 0 : problem.weight[people[first]]);
  }
}

bool ComingsBound::try_chosen(SceneSet middle, std::int64_t wanted, Stop& stop) {
  for (const Side* side : {&leaving_, &coming_}) {
    for (std::size_t i = 0; i < side->size; ++i) middle &= ~unpaid_[side->people[i]];
  }
  measure(middle);
  estimate();
  limit_ = wanted;
  for (std::size_t i = 0; i < leaving_.size; ++i) limit_ += worth(leaving_.people[i], middle);
  for (std::size_t i = 0; i < coming_.size; ++i) {
    if ((coming_.both >> i & 1U) == 0) limit_ += worth(coming_.people[i], middle);
  }
  Line line;
  line.here = leaving_.all();
  line.least[0] = kFar;
  if (to_leave_[line.here] + to_come_[0] + free_work_[line.here] >= limit_) return true;
  below_ = false;
  last_step_ = steps_ + kMostSteps;
  go(line, stop);
  return !below_;
}

/// inside_ and free_work_: first by who exactly is in a scene, then summed over all smaller groups.
void ComingsBound::measure(SceneSet middle) {
  std::array<std::size_t, 64> who{};
  std::array<std::int64_t, 64> free_weight{};
  for (std::size_t i = 0; i < coming_.size; ++i) {
    for (SceneSet rest = scenes_[coming_.people[i]] & middle; rest != 0;) {
      const auto scene = static_cast<std::size_t>(take_lowest(rest));
      who[scene] |= std::size_t{1} << i;
      if ((coming_.both >> i & 1U) != 0) free_weight[scene] += problem_.weight[coming_.people[i]];
    }
  }
  for (std::size_t i = 0; i < leaving_.size; ++i) {
    for (SceneSet rest = scenes_[leaving_.people[i]] & middle; rest != 0;) {
      who[static_cast<std::size_t>(take_lowest(rest))] |= std::size_t{1} << (i + coming_.size);
    }
  }
  const std::size_t bits = leaving_.size + coming_.size;
  std::fill_n(inside_.begin(), std::size_t{1} << bits, 0);
  std::fill_n(free_work_.begin(), std::size_t{1} << leaving_.size, 0);
  while (middle != 0) {
    const auto scene = static_cast<std::size_t>(take_lowest(middle));
    inside_[who[scene]] += problem_.minutes[scene];
    free_work_[who[scene] >> coming_.size] += problem_.minutes[scene] * free_weight[scene];
  }
  const auto sum_up = [](std::int64_t* values, std::size_t size) {
    for (std::size_t step = 1; step < size; step *= 2) {
      for (std::size_t base = step; base < size; base += 2 * step) {
        for (std::size_t i = 0; i < step; ++i) values[base + i] += values[base + i - step];
      }
    }
  };
  sum_up(inside_.data(), std::size_t{1} << bits);
  sum_up(free_work_.data(), std::size_t{1} << leaving_.size);
}

/// What is still to be paid at least: to those who only leave, in the scenes that hold none who has
/// left, by the best order of leaving alone; to those who only come, in the scenes that hold one
/// who has not come yet, by the best order of coming; to those of both sides their work.
void ComingsBound::estimate() {
  const Group all_leaving = leaving_.all();
  const Group all_coming = coming_.all();
  to_leave_[0] = 0;
  for (Group here = 1; here <= all_leaving; ++here) {
    to_leave_[here] = kFar;
    for (Group rest = here; rest != 0; rest &= rest - 1) {
      const Group after = here ^ lowest_of(rest);
      const std::int64_t scenes = inside(here, all_coming) - inside(after, all_coming);
      to_leave_[here] = std::min(to_leave_[here], to_leave_[after] + leaving_.alone[here] * scenes);
    }
  }
  to_come_[all_coming] = 0;
  for (Group come = all_coming; come-- > 0;) {
    to_come_[come] = kFar;
    for (Group rest = all_coming & ~come; rest != 0; rest &= rest - 1) {
      const Group after = come | lowest_of(rest);
      const std::int64_t scenes = inside(all_leaving, after) - inside(all_leaving, come);
      to_come_[come] = std::min(to_come_[come], to_come_[after] + coming_.alone[after] * scenes);
    }
  }
}

/// Goes on with a line in every way that matters. What is paid in it: each scene is paid when it
/// can wait no longer, because somebody leaves who is in it, at the least weight there was since
/// all of it had come; but those who only come are paid for it, at the weight of those who have
/// come by then, at once when it becomes possible, so that estimate() can count on that.
void ComingsBound::go(Line line, Stop& stop) {
  if (++steps_ > last_step_ || stop.now()) below_ = true;
  if (below_) return;
  const Group come_now = line.come[line.comings];
  const std::int64_t weight = leaving_.weight[line.here] + coming_.weight[come_now] - both_;
  for (std::size_t j = 0; j <= line.comings; ++j) line.least[j] = std::min(line.least[j], weight);
  if (line.here == 0) {
    // nobody leaves any more: the others come in their own best order
    std::int64_t paid = line.paid;
    std::int64_t before = 0;
    for (std::size_t j = 0; j <= line.comings; ++j) {
      const std::int64_t up_to = inside(0, line.come[j]);
      paid += (up_to - before) * (line.least[j] - coming_.alone[line.come[j]]);
      before = up_to;
    }
    below_ = paid + to_come_[come_now] < limit_;
    return;
  }
  leave(line, stop);
  come(line, stop);
}

void ComingsBound::leave(const Line& line, Stop& stop) {
  const Group come_now = line.come[line.comings];
  for (Group rest = line.here; rest != 0 && !below_; rest &= rest - 1) {
    const Group after = line.here ^ lowest_of(rest);
    std::int64_t paid = line.paid;
    std::int64_t before = 0;
    std::int64_t last = 0;
    for (std::size_t j = 0; j <= line.comings; ++j) {
      const std::int64_t up_to = inside(line.here, line.come[j]) - inside(after, line.come[j]);
      last = up_to - before;
      paid += last * (line.least[j] - coming_.alone[line.come[j]]);
      before = up_to;
    }
    // somebody in one of the scenes has not come yet
    if (before != inside(line.here, coming_.all()) - inside(after, coming_.all())) continue;
    // they could have left before the last one came, which is no dearer
    if (line.just_came && last == 0) continue;
    if (paid + to_leave_[after] + to_come_[come_now] + free_work_[after] >= limit_) continue;
    Line next = line;
    next.here = after;
    next.paid = paid;
    next.just_came = false;
    go(next, stop);
  }
}

void ComingsBound::come(const Line& line, Stop& stop) {
  const Group come_now = line.come[line.comings];
  for (Group rest = coming_.all() & ~come_now; rest != 0 && !below_; rest &= rest - 1) {
    const Group after = come_now | lowest_of(rest);
    const std::int64_t scenes = inside(leaving_.all(), after) - inside(leaving_.all(), come_now);
    const std::int64_t paid = line.paid + coming_.alone[after] * scenes;
    if (paid + to_leave_[line.here] + to_come_[after] + free_work_[line.here] >= limit_) continue;
    Line next = line;
    next.paid = paid;
    next.just_came = true;
    ++next.comings;
    next.come[next.comings] = after;
    next.least[next.comings] = kFar;
    go(next, stop);
  }
}

}  // namespace gp
