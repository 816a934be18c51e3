#include "ordering/energy.h"

#include <algorithm>
#include <cstdint>
#include <utility>

namespace gp {
namespace {

using Span = ChainWindows::Span;
using Spans = std::vector<Span>;

/// Up to so many tasks every stretch that can tell anything is looked at.
constexpr std::size_t kAllStretches = 40;
/// More beginnings or ends of stretches than these are not tried.
constexpr std::size_t kMostTimes = 3 * kAllStretches;

void mirror(Spans& spans) {
  for (Span& span : spans) {
    const std::int32_t from = span.from;
    span.from = -span.until;
    span.until = -from;
  }
}

bool possible(const Spans& spans) {
  return std::all_of(
      spans.begin(), spans.end(), [](const Span& span) { return span.first_end() <= span.until; });
}

/// Of two tasks one is first; where only one of them can be, the other waits for it.
void after_pairs(Spans& spans) {
  for (Span& a : spans) {
    for (const Span& b : spans) {
      if (&a == &b || a.minutes == 0 || b.minutes == 0) continue;
      if (a.first_end() + b.minutes > b.until) a.from = std::max(a.from, b.first_end());
    }
  }
}

/// A task that cannot be first nor in between among some others, in the time they have, comes after
/// all of them.
bool after_several(Spans& spans) {
  std::vector<std::size_t> late_first(spans.size());
  for (std::size_t i = 0; i < spans.size(); ++i) late_first[i] = i;
  std::sort(late_first.begin(), late_first.end(), [&](std::size_t a, std::size_t b) {
    return spans[a].from > spans[b].from;
  });
  const Spans before = spans;
  for (const Span& limit : before) {
    std::int32_t sum = 0;
    std::int32_t over = INT32_MIN;  // when those counted so far are over at the earliest
    for (const std::size_t j : late_first) {
      if (before[j].until > limit.until) continue;
      sum += before[j].minutes;
      over = std::max(over, before[j].from + sum);
      if (over > limit.until) return false;
      for (std::size_t i = 0; i < spans.size(); ++i) {
        if (before[i].until <= limit.until) continue;
        const std::int32_t first = std::min(before[j].from, before[i].from);
        if (first + sum + before[i].minutes > limit.until) {
          spans[i].from = std::max(spans[i].from, over);
        }
      }
    }
  }
  return true;
}

/// The least of this task that falls between `from` and `until`.
std::int32_t least_within(const Span& span, std::int32_t from, std::int32_t until) {
  return std::max(
      0,
      std::min({span.minutes, until - from, span.first_end() - from, until - span.last_start()}));
}

/// Each once, in order; of very many some, spread evenly, with the first and the last.
void sort_out(std::vector<std::int32_t>& times) {
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  if (times.size() <= kMostTimes) return;
  std::vector<std::int32_t> some;
  for (std::size_t k = 0; k < kMostTimes; ++k) {
    some.push_back(times[k * (times.size() - 1) / (kMostTimes - 1)]);
  }
  times = std::move(some);
}

std::int64_t cube(std::size_t n) {
  const auto side = static_cast<std::int64_t>(n);
  return side * side * side;
}

}  // namespace

bool narrow_one_at_a_time(Spans& spans, std::int64_t& work) {
  work -= cube(spans.size());
  for (int side = 0; side < 2; ++side) {
    after_pairs(spans);
    if (!possible(spans) || !after_several(spans)) return false;
    mirror(spans);
  }
  return possible(spans);
}

bool narrow_by_energy(Spans& spans, std::int32_t capacity, std::int64_t& work) {
  std::vector<std::int32_t> begins, ends;
  const bool all = spans.size() <= kAllStretches;
  for (const Span& span : spans) {
    begins.push_back(span.from);
    ends.push_back(span.until);
    if (!all) continue;
    begins.push_back(span.last_start());
    begins.push_back(span.first_end());
    ends.push_back(span.last_start());
    ends.push_back(span.first_end());
  }
  sort_out(begins);
  sort_out(ends);
  const Spans before = spans;
  const auto tasks = static_cast<std::int64_t>(spans.size());
  for (const std::int32_t from : begins) {
    for (const std::int32_t until : ends) {
      if (until <= from) continue;
      work -= tasks;
      const std::int64_t room = std::int64_t{capacity} * (until - from);
      std::int64_t least = 0;
      for (const Span& span : before) least += least_within(span, from, until);
      if (least > room) return false;
      for (std::size_t i = 0; i < before.size(); ++i) {
        const Span& span = before[i];
        const std::int32_t most = std::min(span.minutes, until - from);
        if (least + most <= room) continue;
        const std::int64_t left = room - least + least_within(span, from, until);
        // at its earliest more of it would fall in than there is room: then it begins so late that
        // no more does; and the same from the other end
        if (span.from < until && std::min(most, span.first_end() - from) > left) {
          spans[i].from = std::max(spans[i].from, static_cast<std::int32_t>(until - left));
        }
        if (span.until > from && std::min(most, until - span.last_start()) > left) {
          spans[i].until = std::min(spans[i].until, static_cast<std::int32_t>(from + left));
        }
      }
    }
  }
  return possible(spans);
}

}  // namespace gp
