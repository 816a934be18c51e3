#include "casting/cast_problem.h"

#include <algorithm>
#include <set>

namespace gp {

std::vector<std::vector<int>> liked_by(const CastProblem& problem) {
  std::vector<std::vector<int>> by(static_cast<std::size_t>(problem.people));
  for (int p = 0; p < problem.people; ++p) {
    for (const int other : problem.friends[static_cast<std::size_t>(p)]) {
      by[static_cast<std::size_t>(other)].push_back(p);
    }
  }
  return by;
}

std::int64_t cast_cost(const CastProblem& problem, const CastSolution& solution) {
  std::int64_t cost = 0;
  std::vector<std::int64_t> scenes_of(static_cast<std::size_t>(problem.people), 0);
  std::vector<std::size_t> here(static_cast<std::size_t>(problem.people), 0);
  for (std::size_t s = 0; s < problem.scenes.size(); ++s) {
    const CastProblem::Scene& scene = problem.scenes[s];
    for (std::size_t k = 0; k < scene.places.size(); ++k) {
      const CastProblem::Places& places = scene.places[k];
      const std::vector<int>& who = solution.filled[s][k];
      cost += places.missing * (places.people - static_cast<int>(who.size()));
      for (const int p : who) {
        const auto person = static_cast<std::size_t>(p);
        cost += places.wish[person];
        ++scenes_of[person];
        here[person] = s + 1;
      }
    }
    for (const auto& who : solution.filled[s]) {
      for (const int p : who) {
        for (const int other : problem.friends[static_cast<std::size_t>(p)]) {
          if (here[static_cast<std::size_t>(other)] == s + 1) cost -= problem.friend_worth;
        }
      }
    }
  }
  for (std::size_t p = 0; p < scenes_of.size(); ++p) {
    cost += problem.burden[p] * scenes_of[p] * scenes_of[p];
  }
  return cost;
}

bool cast_right(const CastProblem& problem, const CastSolution& solution) {
  std::set<std::pair<int, int>> taken;  // group, person
  for (std::size_t s = 0; s < problem.scenes.size(); ++s) {
    const CastProblem::Scene& scene = problem.scenes[s];
    const auto& opening = scene.openings.at(static_cast<std::size_t>(solution.opening[s]));
    for (std::size_t k = 0; k < scene.places.size(); ++k) {
      const auto& who = solution.filled[s][k];
      if (static_cast<int>(who.size()) > scene.places[k].people) return false;
      for (const int p : who) {
        const int part = scene.places[k].part;
        if (part >= 0 && solution.part[static_cast<std::size_t>(part)] != p) return false;
        const auto& may = opening.candidates[k];
        if (!std::binary_search(may.begin(), may.end(), p)) return false;
        if (!taken.insert({scene.group, p}).second) return false;
      }
    }
  }
  for (std::size_t r = 0; r < problem.parts.size(); ++r) {
    const auto& part = problem.parts[r];
    if (part.fixed >= 0 && solution.part[r] != part.fixed) return false;
    if (part.fixed >= 0 || solution.part[r] < 0) continue;
    for (const int other : part.apart) {
      if (solution.part[static_cast<std::size_t>(other)] == solution.part[r]) return false;
    }
  }
  return true;
}

}  // namespace gp
