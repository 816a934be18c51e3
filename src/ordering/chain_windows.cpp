#include "ordering/chain_windows.h"

#include "ordering/energy.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace gp {
namespace {

/// Two chains with the same key may be exchanged in any schedule.
using Key =
    std::vector<std::tuple<std::int32_t, std::int32_t, std::int32_t, std::vector<std::size_t>>>;

Key key_of(const std::vector<ChainProblem::Task>& chain) {
  Key key;
  for (const auto& task : chain) {
    key.emplace_back(task.minutes, task.then_wait, task.not_before, task.uses);
  }
  return key;
}

}  // namespace

ChainWindows::ChainWindows(const ChainProblem& problem, std::int32_t end) {
  auto shape = std::make_shared<Shape>();
  shape->capacity = problem.capacity;
  shape->users.resize(problem.capacity.size());
  std::map<Key, std::size_t> first_of;
  for (const auto& chain : problem.chains) {
    if (chain.empty()) continue;
    const std::size_t first = spans_.size();
    const auto [found, is_new] = first_of.try_emplace(key_of(chain), first);
    if (!is_new) {
      shape->alike.emplace_back(found->second, first);
      found->second = first;
    }
    for (std::size_t k = 0; k < chain.size(); ++k) {
      const std::size_t task = spans_.size();
      spans_.push_back({chain[k].not_before, end, chain[k].minutes});
      shape->then_wait.push_back(chain[k].then_wait);
      shape->last.push_back(k + 1 == chain.size());
      auto& uses = shape->uses.emplace_back();
      if (chain[k].minutes == 0) continue;  // takes nothing from anybody
      uses = chain[k].uses;
      for (const std::size_t resource : uses) shape->users[resource].push_back(task);
    }
    spans_.back().until = end - chain.back().then_wait;
  }
  shape_ = std::move(shape);
  stale_.assign(problem.capacity.size(), 1);
}

void ChainWindows::not_before(std::size_t task, std::int32_t from) {
  if (from <= spans_[task].from) return;
  spans_[task].from = from;
  for (const std::size_t resource : shape_->uses[task]) stale_[resource] = 1;
}

void ChainWindows::not_after(std::size_t task, std::int32_t until) {
  if (until >= spans_[task].until) return;
  spans_[task].until = until;
  for (const std::size_t resource : shape_->uses[task]) stale_[resource] = 1;
}

void ChainWindows::put_before(std::size_t first, std::size_t then) {
  const std::pair pair(first, then);
  put_.insert(std::upper_bound(put_.begin(), put_.end(), pair), pair);
  not_before(then, spans_[first].first_end());
  not_after(first, spans_[then].last_start());
}

bool ChainWindows::is_put_before(std::size_t first, std::size_t then) const {
  return std::binary_search(put_.begin(), put_.end(), std::pair(first, then));
}

bool ChainWindows::narrow_chains() {
  // of chains that are the same only the first tasks are put in order: one may overtake the other
  // later on
  for (const auto& [earlier, later] : shape_->alike) not_before(later, spans_[earlier].from);
  for (const auto& [first, then] : put_) {
    not_before(then, spans_[first].first_end());
    not_after(first, spans_[then].last_start());
  }
  for (std::size_t task = 0; task < spans_.size(); ++task) {
    if (shape_->last[task]) continue;
    not_before(task + 1, spans_[task].first_end() + shape_->then_wait[task]);
  }
  for (std::size_t task = spans_.size(); task-- > 0;) {
    if (shape_->last[task]) continue;
    not_after(task, spans_[task + 1].last_start() - shape_->then_wait[task]);
  }
  for (std::size_t k = shape_->alike.size(); k-- > 0;) {
    const auto& [earlier, later] = shape_->alike[k];
    not_after(earlier, spans_[later].last_start() + spans_[earlier].minutes);
  }
  return std::all_of(spans_.begin(), spans_.end(), [](const Span& span) {
    return span.first_end() <= span.until;
  });
}

std::optional<bool> ChainWindows::narrow_resource(std::size_t resource,
                                                  bool energy,
                                                  std::int64_t& work) {
  const auto& users = shape_->users[resource];
  const std::int32_t capacity = shape_->capacity[resource];
  if (users.size() <= static_cast<std::size_t>(capacity)) return false;
  if (!energy && capacity != 1) return false;
  std::vector<Span> spans;
  spans.reserve(users.size());
  for (const std::size_t task : users) spans.push_back(spans_[task]);
  const bool possible =
      energy ? narrow_by_energy(spans, capacity, work) : narrow_one_at_a_time(spans, work);
  if (!possible) return std::nullopt;
  bool narrower = false;
  for (std::size_t k = 0; k < users.size(); ++k) {
    const Span& old = spans_[users[k]];
    if (spans[k].from == old.from && spans[k].until == old.until) continue;
    narrower = true;
    not_before(users[k], spans[k].from);
    not_after(users[k], spans[k].until);
  }
  return narrower;
}

bool ChainWindows::narrow(std::int64_t& work, Stop& stop) {
  if (!narrow_chains()) return false;
  // the cheap rules until they are at rest, then energy; whatever that finds, from the beginning.
  // Once tasks are put in order, energy tells next to nothing more where one is served at a time.
  std::vector<char> for_energy = stale_;
  while (work >= 0 && !stop.now()) {
    bool again = false;
    for (std::size_t r = 0; r < stale_.size(); ++r) {
      if (stale_[r] == 0) continue;
      stale_[r] = 0;
      for_energy[r] = 1;
      const auto narrower = narrow_resource(r, false, work);
      if (!narrower) return false;
      again = again || *narrower;
    }
    if (again) {
      if (!narrow_chains()) return false;
      continue;
    }
    for (std::size_t r = 0; r < stale_.size() && !again; ++r) {
      if (for_energy[r] == 0 || (shape_->capacity[r] == 1 && !put_.empty())) continue;
      for_energy[r] = 0;
      const auto narrower = narrow_resource(r, true, work);
      if (!narrower) return false;
      again = *narrower;
    }
    if (!again) return true;
    if (!narrow_chains()) return false;
  }
  return true;
}

}  // namespace gp
