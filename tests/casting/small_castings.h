#pragma once

#include "base/random.h"
#include "casting/cast_problem.h"

#include <algorithm>
#include <cstdint>

// Small castings of a generator, and what they cost at least.

namespace gp::test {

inline std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

/// A small made-up problem: 2 to 3 scenes, a part or two, crowds and crew of one or two heads.
inline CastProblem small_casting(Random& random, bool friends) {
  CastProblem problem;
  problem.people = random.between(3, 5);
  problem.friend_worth = 6;
  for (int p = 0; p < problem.people; ++p) {
    problem.burden.push_back(4 * random.between(1, 2));
    problem.friends.emplace_back();
    if (friends && random.chance(1, 2)) {
      const int other = random.between(0, problem.people - 1);
      if (other != p) problem.friends.back().push_back(other);
    }
  }
  const int scenes = random.between(2, 3);
  const int parts = random.between(1, 2);
  problem.parts.resize(at(parts));
  problem.groups = 0;
  for (int s = 0; s < scenes; ++s) {
    CastProblem::Scene scene;
    const bool same_time = s > 0 && random.chance(1, 4);
    scene.group = same_time ? problem.scenes[at(s - 1)].group : problem.groups++;
    const auto add = [&](int part, int people, std::int64_t missing) {
      CastProblem::Places places;
      places.part = part;
      places.people = people;
      places.missing = missing;
      for (int p = 0; p < problem.people; ++p) places.wish.push_back(random.between(-12, 8));
      scene.places.push_back(std::move(places));
    };
    for (int r = 0; r < parts; ++r) {
      if (!random.chance(2, 3)) continue;
      // (a part asked for in two scenes at once is in the first: it collides, and is told)
      const auto& before = problem.parts[at(r)].places;
      if (same_time && std::any_of(before.begin(), before.end(), [&](const auto& place) {
            return problem.scenes[at(place.first)].group == scene.group;
          })) {
        continue;
      }
      problem.parts[at(r)].places.emplace_back(s, static_cast<int>(scene.places.size()));
      add(r, 1, 20'000'000'000);
    }
    add(-1, random.between(1, 2), 1'000'000'000);
    if (random.chance(1, 2)) add(-1, 1, 1'000'000'000);
    const int openings = random.between(1, 2);
    for (int o = 0; o < openings; ++o) {
      CastProblem::Opening opening;
      for (std::size_t k = 0; k < scene.places.size(); ++k) {
        opening.candidates.emplace_back();
        for (int p = 0; p < problem.people; ++p) {
          if (random.chance(2, 3)) opening.candidates.back().push_back(p);
        }
      }
      scene.openings.push_back(std::move(opening));
    }
    problem.scenes.push_back(std::move(scene));
  }
  for (int r = 0; r < parts; ++r) {
    auto& part = problem.parts[at(r)];
    for (int p = 0; p < problem.people; ++p) part.candidates.push_back(p);
    if (random.chance(1, 5)) part.fixed = random.between(0, problem.people - 1);
    for (int other = 0; other < parts; ++other) {
      if (other == r) continue;
      bool together = false;
      for (const auto& [s, k] : part.places) {
        for (const auto& [t, l] : problem.parts[at(other)].places) {
          together = together || problem.scenes[at(s)].group == problem.scenes[at(t)].group;
        }
      }
      if (together) part.apart.push_back(other);
    }
  }
  return problem;
}

/// The least cost by trying everybody everywhere, empty places too; shares no code with the search
/// but what a filling costs.
class Everything {
 public:
  explicit Everything(const CastProblem& problem) : problem_(problem) {
    now_.part.assign(problem.parts.size(), -1);
    now_.opening.assign(problem.scenes.size(), 0);
    now_.filled.resize(problem.scenes.size());
    for (std::size_t s = 0; s < problem.scenes.size(); ++s) {
      now_.filled[s].resize(problem.scenes[s].places.size());
    }
    taken_.assign(at(problem.groups) * at(problem.people), 0);
    part(0);
  }
  std::int64_t least = INT64_MAX;
  long tried = 0;

 private:
  void part(std::size_t r) {
    if (r == problem_.parts.size()) return opening(0);
    const int fixed = problem_.parts[r].fixed;
    for (int p = -1; p < problem_.people; ++p) {
      if (fixed >= 0 && p != fixed) continue;
      now_.part[r] = p;
      part(r + 1);
    }
  }
  void opening(std::size_t s) {
    if (s == problem_.scenes.size()) return place(0, 0);
    for (std::size_t o = 0; o < problem_.scenes[s].openings.size(); ++o) {
      now_.opening[s] = static_cast<int>(o);
      opening(s + 1);
    }
  }
  void place(std::size_t s, std::size_t k) {
    if (s == problem_.scenes.size()) {
      ++tried;
      if (cast_right(problem_, now_)) least = std::min(least, cast_cost(problem_, now_));
      return;
    }
    if (k == problem_.scenes[s].places.size()) return place(s + 1, 0);
    const auto& places = problem_.scenes[s].places[k];
    const auto& may = problem_.scenes[s].openings[at(now_.opening[s])].candidates[k];
    char* const busy = &taken_[at(problem_.scenes[s].group) * at(problem_.people)];
    // every choice of at most `people` of those who may
    for (unsigned choice = 0; choice < (1U << may.size()); ++choice) {
      std::vector<int> who;
      bool right = true;
      for (std::size_t i = 0; i < may.size(); ++i) {
        if ((choice >> i & 1U) == 0) continue;
        who.push_back(may[i]);
        right = right && busy[may[i]] == 0;
        if (places.part >= 0) right = right && now_.part[at(places.part)] == may[i];
      }
      if (!right || static_cast<int>(who.size()) > places.people) continue;
      for (const int p : who) busy[p] = 1;
      now_.filled[s][k] = who;
      place(s, k + 1);
      now_.filled[s][k].clear();
      for (const int p : who) busy[p] = 0;
    }
  }
  const CastProblem& problem_;
  CastSolution now_;
  std::vector<char> taken_;
};

}  // namespace gp::test
