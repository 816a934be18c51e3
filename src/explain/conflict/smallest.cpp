#include "explain/conflict/smallest.h"

#include <algorithm>
#include <optional>

namespace gp::conflict {
namespace {

/// How many choices of a least hitting set are looked at before it is given up.
constexpr std::size_t kMostHittingChoices = 2'000'000;

bool holds(const std::vector<std::size_t>& set, std::size_t fact) {
  return std::find(set.begin(), set.end(), fact) != set.end();
}

}  // namespace

Verdict SmallestFinder::ask(const InForce& in_force) {
  const auto found = known_.find(in_force);
  if (found != known_.end()) return found->second;
  const Verdict verdict = oracle_(in_force);
  known_.emplace(in_force, verdict);
  return verdict;
}

bool SmallestFinder::impossible(const std::vector<std::size_t>& facts) {
  InForce in_force(facts_, 0);
  for (const std::size_t fact : facts) in_force[fact] = 1;
  return ask(in_force) == Verdict::impossible;
}

/// Junker's divide and conquer: a least part of `facts` that is impossible with the background.
/// \param grown  whether the background has changed since it was last asked about
std::vector<std::size_t> SmallestFinder::explain(const std::vector<std::size_t>& background,
                                                 bool grown,
                                                 const std::vector<std::size_t>& facts) {
  if (grown && impossible(background)) return {};
  if (facts.size() <= 1) return facts;
  const auto middle = static_cast<std::ptrdiff_t>(facts.size() / 2);
  const std::vector<std::size_t> first(facts.begin(), facts.begin() + middle);
  const std::vector<std::size_t> second(facts.begin() + middle, facts.end());
  std::vector<std::size_t> with_first = background;
  with_first.insert(with_first.end(), first.begin(), first.end());
  const auto of_second = explain(with_first, !first.empty(), second);
  std::vector<std::size_t> with_second = background;
  with_second.insert(with_second.end(), of_second.begin(), of_second.end());
  auto result = explain(with_second, !of_second.empty(), first);
  result.insert(result.end(), of_second.begin(), of_second.end());
  return result;
}

/// From facts that are possible together: as many more of the others as can hold besides; what is
/// left over is a correction, a set whose loosening makes it possible.
std::vector<std::size_t> SmallestFinder::correction(InForce possible) {
  std::vector<std::size_t> left;
  for (std::size_t fact = 0; fact < facts_; ++fact) {
    if (possible[fact] != 0) continue;
    possible[fact] = 1;
    if (over() || ask(possible) != Verdict::possible) {
      possible[fact] = 0;
      left.push_back(fact);
    }
  }
  return left;
}

/// The least set of at most `most` facts with one of each correction. False: there is none, and
/// `hitting` is empty; or it was given up, and `hitting` is not.
bool SmallestFinder::least_hitting(const std::vector<std::vector<std::size_t>>& corrections,
                                   std::size_t most,
                                   std::vector<std::size_t>& hitting) {
  std::optional<std::vector<std::size_t>> best;
  std::vector<std::size_t> chosen;
  std::size_t choices = 0;
  bool whole = true;
  const std::function<void()> choose = [&] {
    if (++choices > kMostHittingChoices) whole = false;
    if (!whole) return;
    const std::vector<std::size_t>* open = nullptr;
    // corrections apart from each other need one fact each
    std::size_t apart = 0;
    std::vector<char> seen(facts_, 0);
    for (const auto& set : corrections) {
      const bool hit = std::any_of(
          set.begin(), set.end(), [&](std::size_t fact) { return holds(chosen, fact); });
      if (hit) continue;
      if (open == nullptr || set.size() < open->size()) open = &set;
      const bool meets =
          std::any_of(set.begin(), set.end(), [&](std::size_t fact) { return seen[fact] != 0; });
      if (!meets) ++apart;
      for (const std::size_t fact : set) seen[fact] = 1;
    }
    const std::size_t limit = best ? best->size() - 1 : most;
    if (chosen.size() + apart > limit) return;
    if (open == nullptr) {
      best = chosen;
      return;
    }
    for (const std::size_t fact : *open) {
      chosen.push_back(fact);
      choose();
      chosen.pop_back();
    }
  };
  choose();
  hitting.clear();
  if (best) hitting = *best;
  std::sort(hitting.begin(), hitting.end());
  if (!whole) hitting = {facts_};
  return whole && best.has_value();
}

SmallestSet SmallestFinder::find() {
  std::vector<std::size_t> all(facts_);
  for (std::size_t fact = 0; fact < facts_; ++fact) all[fact] = fact;
  SmallestSet best;
  best.facts = explain({}, false, all);
  if (!impossible(best.facts)) {
    // An answer that was not proven led it astray: one by one, keeping what is proven.
    best.facts = all;
    for (const std::size_t fact : all) {
      std::vector<std::size_t> fewer = best.facts;
      std::erase(fewer, fact);
      if (!over() && impossible(fewer)) best.facts = std::move(fewer);
    }
  }
  std::sort(best.facts.begin(), best.facts.end());

  // Facts that make it possible by themselves are in every set that is impossible.
  std::vector<std::vector<std::size_t>> corrections;
  for (const std::size_t fact : best.facts) {
    InForce rest(facts_, 1);
    rest[fact] = 0;
    if (!over() && ask(rest) == Verdict::possible) corrections.push_back({fact});
  }
  bool proven = corrections.size() == best.facts.size();
  while (!proven && !over()) {
    std::vector<std::size_t> hitting;
    if (!least_hitting(corrections, best.facts.size() - 1, hitting)) {
      proven = hitting.empty();  // no set with fewer hits them all
      break;
    }
    InForce in_force(facts_, 0);
    for (const std::size_t fact : hitting) in_force[fact] = 1;
    const Verdict verdict = ask(in_force);
    if (verdict == Verdict::impossible) {
      best.facts = hitting;
      proven = true;
      break;
    }
    if (verdict == Verdict::unknown) break;
    const auto left = correction(std::move(in_force));
    if (over()) break;
    corrections.push_back(left);
  }
  best.smallest = proven;
  for (const std::size_t fact : best.facts) {
    InForce in_force(facts_, 0);
    for (const std::size_t other : best.facts) in_force[other] = other == fact ? 0 : 1;
    best.needed.push_back(ask(in_force) == Verdict::possible ? 1 : 0);
  }
  return best;
}

std::vector<std::size_t> SmallestFinder::loosen_together(const std::vector<std::size_t>& first) {
  // Everything loosened is possible; then back in force one by one, those asked for last.
  InForce in_force(facts_, 0);
  if (ask(in_force) != Verdict::possible) return {};
  std::vector<std::size_t> order;
  for (std::size_t fact = 0; fact < facts_; ++fact) {
    if (!holds(first, fact)) order.push_back(fact);
  }
  order.insert(order.end(), first.begin(), first.end());
  std::vector<std::size_t> left;
  for (const std::size_t fact : order) {
    in_force[fact] = 1;
    if (ask(in_force) == Verdict::possible) continue;
    in_force[fact] = 0;
    left.push_back(fact);
  }
  std::sort(left.begin(), left.end());
  return left;
}

}  // namespace gp::conflict
