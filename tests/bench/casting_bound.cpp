#include "bench/casting_bound.h"

#include "base/json_writer.h"
#include "base/sha256.h"
#include "bench/sections.h"
#include "casting/head_flow.h"

#include <algorithm>
#include <sstream>
#include <vector>

namespace gp::bench {
namespace {

void write_places(JsonWriter& out, const CastProblem::Scene& scene) {
  out.key("places").begin_list();
  for (std::size_t k = 0; k < scene.places.size(); ++k) {
    const CastProblem::Places& places = scene.places[k];
    out.begin_object(JsonLayout::compact);
    out.key("part").number(std::int64_t{places.part});
    out.key("people").number(std::int64_t{places.people});
    out.key("wish").begin_list(JsonLayout::compact);
    for (const std::int32_t wish : places.wish) out.number(std::int64_t{wish});
    out.end_list();
    out.end_object();
  }
  out.end_list();
}

void write_numbers(JsonWriter& out, const std::vector<int>& numbers) {
  out.begin_list(JsonLayout::compact);
  for (const int number : numbers) out.number(std::int64_t{number});
  out.end_list();
}

/// Parts too are heads of their scenes, whoever they are, at any moment of each.
std::int64_t spread(const CastProblem& problem) {
  CastProblem relaxed = problem;
  relaxed.parts.clear();
  for (CastProblem::Scene& scene : relaxed.scenes) {
    CastProblem::Opening any = scene.openings.front();
    for (std::size_t k = 0; k < scene.places.size(); ++k) {
      scene.places[k].part = -1;
      std::vector<int>& may = any.candidates[k];
      for (const CastProblem::Opening& opening : scene.openings) {
        may.insert(may.end(), opening.candidates[k].begin(), opening.candidates[k].end());
      }
      std::sort(may.begin(), may.end());
      may.erase(std::unique(may.begin(), may.end()), may.end());
    }
    scene.openings = {std::move(any)};
  }
  for (auto& friends : relaxed.friends) friends.clear();
  CastSolution solution;
  solution.opening.assign(relaxed.scenes.size(), 0);
  HeadFlow(relaxed).fill(solution);
  return solution.cost;
}

/// What a part costs with the person it costs least with, who is in nothing else.
std::int64_t alone(const CastProblem& problem, const CastProblem::Part& part) {
  std::vector<int> candidates = part.candidates;
  if (part.fixed >= 0) candidates = {part.fixed};
  std::int64_t least = 0;
  for (const auto& place : part.places) {
    least += problem.scenes[static_cast<std::size_t>(place.first)]
                 .places[static_cast<std::size_t>(place.second)]
                 .missing;
  }
  for (const int person : candidates) {
    std::int64_t cost = 0;
    std::int64_t scenes = 0;
    for (const auto& [s, k] : part.places) {
      const CastProblem::Scene& scene = problem.scenes[static_cast<std::size_t>(s)];
      const auto& places = scene.places[static_cast<std::size_t>(k)];
      const bool can = std::any_of(
          scene.openings.begin(), scene.openings.end(), [&](const CastProblem::Opening& opening) {
            const auto& may = opening.candidates[static_cast<std::size_t>(k)];
            return std::binary_search(may.begin(), may.end(), person);
          });
      cost += can ? places.wish[static_cast<std::size_t>(person)] : places.missing;
      if (can) ++scenes;
    }
    cost += problem.burden[static_cast<std::size_t>(person)] * scenes * scenes;
    least = std::min(least, cost);
  }
  return least;
}

/// Each part by itself, and crowds and crew as if there were no parts: (a + b)^2 >= a^2 + b^2.
std::int64_t parts_alone(const CastProblem& problem) {
  std::int64_t cost = 0;
  for (const CastProblem::Part& part : problem.parts) cost += alone(problem, part);
  CastProblem crowds = problem;
  crowds.parts.clear();
  for (CastProblem::Scene& scene : crowds.scenes) {
    for (std::size_t k = 0; k < scene.places.size(); ++k) {
      if (scene.places[k].part < 0) continue;
      scene.places[k].part = -1;
      scene.places[k].people = 0;
    }
  }
  return cost + spread(crowds);
}

}  // namespace

std::int64_t casting_bound(const CastProblem& problem) {
  return std::max(spread(problem), parts_alone(problem));
}

std::string casting_numbers(const CastProblem& problem) {
  JsonWriter out;
  out.begin_object();
  out.key("people").number(std::int64_t{problem.people});
  out.key("burden").begin_list(JsonLayout::compact);
  for (const std::int32_t burden : problem.burden) out.number(std::int64_t{burden});
  out.end_list();
  out.key("friend_worth").number(std::int64_t{problem.friend_worth});
  out.key("friends").begin_list(JsonLayout::compact);
  for (const auto& friends : problem.friends) write_numbers(out, friends);
  out.end_list();
  out.key("parts").begin_list();
  for (const CastProblem::Part& part : problem.parts) {
    out.begin_object(JsonLayout::compact);
    out.key("fixed").number(std::int64_t{part.fixed});
    out.key("candidates");
    write_numbers(out, part.candidates);
    out.key("apart");
    write_numbers(out, part.apart);
    out.end_object();
  }
  out.end_list();
  out.key("scenes").begin_list();
  for (const CastProblem::Scene& scene : problem.scenes) {
    out.begin_object();
    out.key("group").number(std::int64_t{scene.group});
    write_places(out, scene);
    out.key("openings").begin_list();
    for (const CastProblem::Opening& opening : scene.openings) {
      out.begin_list(JsonLayout::compact);
      for (const auto& may : opening.candidates) write_numbers(out, may);
      out.end_list();
    }
    out.end_list();
    out.end_object();
  }
  out.end_list();
  out.end_object();
  return out.finish();
}

std::optional<SolvedCasting> solved_casting(const CastProblem& problem) {
  const std::string fingerprint = sha256(casting_numbers(problem)).substr(0, 12);
  std::istringstream lines(file_text(std::string(GP_TEST_DATA) + "/casting/solved.txt"));
  std::string of;
  for (SolvedCasting solved; lines >> of >> solved.bound >> solved.found;) {
    if (of == fingerprint) return solved;
  }
  return std::nullopt;
}

}  // namespace gp::bench
