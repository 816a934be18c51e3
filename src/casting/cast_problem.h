#pragma once

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace gp {

/// Casting as numbers: who fills which place of which scene, at the least cost. People, roles and
/// scenes are their places in the production's lists; nobody is -1. Costs are points without a
/// unit, the same for every production (casting/cast_costs.h).
struct CastProblem {
  /// Places of one kind in a scene: one part, heads of one crowd, people behind the camera.
  struct Places {
    int part = -1;             ///< which part; -1: a crowd or a crew, whoever they are
    int people = 1;            ///< a part: 1
    std::int64_t missing = 0;  ///< the cost of each place that stays empty
    /// By person: what having them here costs (wishes, experience, a doubtful answer); may be below
    /// 0. Read only for candidates.
    std::vector<std::int32_t> wish;
  };
  /// A moment at which the scene could be shot, by whom it suits: for each of the scene's places
  /// the people who may and can, in rising order.
  struct Opening {
    int day = 0;
    int start = 0;  ///< of the shot, minutes of that day
    std::vector<std::vector<int>> candidates;
  };
  struct Scene {
    std::vector<Places> places;
    std::vector<Opening> openings;  ///< the most promising first; at least one
    /// Nobody is in two places of scenes of the same group: those that certainly overlap.
    int group = 0;
  };
  struct Part {
    int fixed = -1;  ///< whom the production gives it to; kept whatever it costs
    std::vector<int> candidates;
    std::vector<std::pair<int, int>> places;  ///< scene, and which of its places
    std::vector<int> apart;                   ///< parts the same person cannot have as well
  };

  int people = 0;
  std::vector<Scene> scenes;
  std::vector<Part> parts;
  int groups = 0;
  /// By person: what being in n scenes costs is burden * n * n.
  std::vector<std::int32_t> burden;
  std::vector<std::vector<int>> friends;  ///< by person: whom they would like to be with
  std::int32_t friend_worth = 0;          ///< for each scene with a friend they like in it
};

struct CastSolution {
  std::vector<int> part;     ///< who has it; -1: nobody
  std::vector<int> opening;  ///< by scene
  /// By scene and places: who fills them, in rising order; fewer than asked: the rest is empty. A
  /// part's person stands here in those of its scenes in which they can be.
  std::vector<std::vector<std::vector<int>>> filled;
  std::int64_t cost = 0;
};

/// By person: who would like to be with them.
std::vector<std::vector<int>> liked_by(const CastProblem& problem);

/// What a filling costs: empty places, wishes, burdens and friends.
std::int64_t cast_cost(const CastProblem& problem, const CastSolution& solution);

/// Whether nobody is in two places at once, everybody may be where they are, and parts are the same
/// person all through; for tests and for our own last look.
bool cast_right(const CastProblem& problem, const CastSolution& solution);

}  // namespace gp
