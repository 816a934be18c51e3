#include "casting/head_flow.h"

#include <algorithm>
#include <functional>
#include <limits>
#include <queue>

namespace gp {
namespace {

constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max() / 4;
/// Added to every wish and every empty place alike, so that no arc costs less than nothing; takes
/// nothing from the order of fillings, for every place costs it once.
constexpr std::int64_t kLift = 1'000'000;
constexpr int kFree = -1;
constexpr int kPart = -2;

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

}  // namespace

HeadFlow::HeadFlow(const CastProblem& problem) : problem_(problem) {
  for (std::size_t s = 0; s < problem.scenes.size(); ++s) {
    for (std::size_t k = 0; k < problem.scenes[s].places.size(); ++k) {
      if (problem.scenes[s].places[k].part < 0) {
        const auto& places = problem.scenes[s].places[k];
        rows_.push_back({static_cast<int>(s), static_cast<int>(k), places.wish.data()});
      }
    }
  }
  const std::size_t nodes = rows_.size() + at(problem.people);
  distance_.assign(nodes, kFar);
  from_row_.assign(nodes, -1);
  by_person_.assign(nodes, -1);
  finished_.assign(nodes, 0);
}

std::int64_t HeadFlow::wish(std::size_t row, int person) const {
  const Row& it = rows_[row];
  const std::int64_t cost = kLift + it.wish[person];
  return bonus_->empty() ? cost : cost - (*bonus_)[at(it.scene)][at(person)];
}

void HeadFlow::place_parts(CastSolution& solution) {
  for (std::size_t s = 0; s < problem_.scenes.size(); ++s) {
    const auto& scene = problem_.scenes[s];
    const auto& opening = scene.openings[at(solution.opening[s])];
    solution.filled[s].assign(scene.places.size(), {});
    for (std::size_t k = 0; k < scene.places.size(); ++k) {
      if (scene.places[k].part < 0) continue;
      const int who = solution.part[at(scene.places[k].part)];
      if (who < 0) continue;
      const auto& may = opening.candidates[k];
      int& taken = taken_by_[at(scene.group) * at(problem_.people) + at(who)];
      if (taken != kFree || !std::binary_search(may.begin(), may.end(), who)) continue;
      taken = kPart;
      solution.filled[s][k] = {who};
      ++scenes_of_[at(who)];
    }
  }
}

void HeadFlow::add_head(std::size_t first, const CastSolution& solution) {
  ++work_;
  using Entry = std::pair<std::int64_t, int>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  touched_.clear();
  const auto reach = [&](int node, std::int64_t distance, int row, int person) {
    if (finished_[at(node)] != 0 || distance >= distance_[at(node)]) return;
    if (distance_[at(node)] == kFar) touched_.push_back(node);
    distance_[at(node)] = distance;
    from_row_[at(node)] = row;
    by_person_[at(node)] = person;
    queue.push({distance, node});
  };
  const int row_count = static_cast<int>(rows_.size());
  reach(static_cast<int>(first), 0, -1, -1);
  std::int64_t best = kFar;
  int end = -1;
  while (!queue.empty()) {
    const auto [distance, node] = queue.top();
    queue.pop();
    if (finished_[at(node)] != 0) continue;
    if (distance >= best) break;
    finished_[at(node)] = 1;
    const std::int64_t reduced = distance + potential_[at(node)];
    if (node >= row_count) {
      const int person = node - row_count;
      const std::int64_t n = scenes_of_[at(person)];
      const std::int64_t ends = reduced + problem_.burden[at(person)] * (2 * n + 1);
      if (ends < best) {
        best = ends;
        end = node;
      }
      for (const int row : rows_of_[at(person)]) {
        reach(row, reduced - wish(at(row), person) - potential_[at(row)], node, person);
      }
      continue;
    }
    const Row& row = rows_[at(node)];
    const auto& scene = problem_.scenes[at(row.scene)];
    const std::int64_t ends = reduced + scene.places[at(row.places)].missing + kLift;
    if (ends < best) {
      best = ends;
      end = node;
    }
    const int* const taken = &taken_by_[at(scene.group) * at(problem_.people)];
    for (const int person :
         scene.openings[at(solution.opening[at(row.scene)])].candidates[at(row.places)]) {
      const int by = taken[person];
      if (by == kPart || by == node) continue;
      const std::int64_t there = reduced + wish(at(node), person);
      if (by == kFree) {
        const int next = row_count + person;
        reach(next, there - potential_[at(next)], node, person);
      } else {
        reach(by, there - wish(at(by), person) - potential_[at(by)], node, person);
      }
    }
  }
  // Backwards along the chain: who came in, and what they gave up for it.
  for (int node = end; node >= 0;) {
    const int before = from_row_[at(node)];
    if (before < 0) break;
    const int person = by_person_[at(node)];
    auto& of_person = rows_of_[at(person)];
    const auto group_of = [&](int row) {
      return at(problem_.scenes[at(rows_[at(row)].scene)].group);
    };
    if (node < row_count) {
      // the person leaves this row: for another of its group, or for what the person node is for
      of_person.erase(std::find(of_person.begin(), of_person.end(), node));
      int& taken = taken_by_[group_of(node) * at(problem_.people) + at(person)];
      if (taken == node) taken = kFree;
      if (before >= row_count) {
        --scenes_of_[at(person)];
        node = before;
        continue;
      }
      of_person.push_back(before);
      taken = before;
    } else {
      ++scenes_of_[at(person)];
      of_person.push_back(before);
      taken_by_[group_of(before) * at(problem_.people) + at(person)] = before;
    }
    node = before;
  }
  for (const int node : touched_) {
    if (finished_[at(node)] != 0 && distance_[at(node)] < best) {
      potential_[at(node)] += distance_[at(node)] - best;
    }
    distance_[at(node)] = kFar;
    finished_[at(node)] = 0;
    from_row_[at(node)] = -1;
    by_person_[at(node)] = -1;
  }
}

bool HeadFlow::fill(CastSolution& solution,
                    const std::vector<std::vector<std::int32_t>>& bonus,
                    Stop* stop) {
  bonus_ = &bonus;
  scenes_of_.assign(at(problem_.people), 0);
  taken_by_.assign(at(problem_.groups) * at(problem_.people), kFree);
  rows_of_.assign(at(problem_.people), {});
  potential_.assign(rows_.size() + at(problem_.people), 0);
  solution.filled.resize(problem_.scenes.size());
  place_parts(solution);
  for (std::size_t row = 0; row < rows_.size(); ++row) {
    const auto& places = problem_.scenes[at(rows_[row].scene)].places[at(rows_[row].places)];
    for (int head = 0; head < places.people; ++head) {
      if (stop != nullptr && stop->now()) return false;
      add_head(row, solution);
    }
  }
  for (int person = 0; person < problem_.people; ++person) {
    for (const int row : rows_of_[at(person)]) {
      solution.filled[at(rows_[at(row)].scene)][at(rows_[at(row)].places)].push_back(person);
    }
  }
  solution.cost = cast_cost(problem_, solution);
  return true;
}

}  // namespace gp
