#pragma once

#include "base/json_writer.h"
#include "base/stop.h"
#include "model/plan.h"
#include "model/production.h"
#include "search/planner.h"

#include <functional>
#include <string>
#include <vector>

// What stands in the way of what a plan leaves out: the facts of the production that together make
// it impossible, and how little would have to change.

namespace gp {

/// What cannot be done.
enum class Obstacle {
  scene,     ///< the scene cannot be filmed at all, not even alone
  heads,     ///< it could be filmed alone, but not with all of a crowd or a crew
  together,  ///< it could be alone, but not with the other scenes of the plan
  not_known  ///< the search ended before it was settled
};
/// As the JSON writes it: "alone", "heads", "together", "not known".
std::string name_of(Obstacle obstacle);

/// One fact of a conflict.
struct ConflictFact {
  std::string path;   ///< in the production file: "people[3].free[0]"; days in order of date
  std::string words;  ///< "Noor is free until 17:00"
  /// Shown: the other facts of the set alone leave it possible. False: not proven.
  bool needed = false;
  /// Changing this alone, with all else as written, makes it possible: a plan was found.
  bool enough = false;
  /// Where it is enough: the least change, in words, "if Noor could stay until 17:25 instead of
  /// 17:00". Else what would loosen it wholly, which is not enough alone.
  std::string change;
  int by = 0;          ///< minutes, heads or things; 0: it has no degrees, or wholly
  bool least = false;  ///< one less was shown to be impossible (together: no way was found)
};

/// Facts that together make one thing impossible.
struct Conflict {
  SceneId scene;
  RoleId role;      ///< heads of it are missing; none: `job`, or the whole scene
  std::string job;  ///< places behind the camera that are missing
  Obstacle obstacle = Obstacle::not_known;
  bool proven = false;    ///< that the facts together are impossible; else the search found no way
  bool smallest = false;  ///< no other set has fewer: proven
  std::vector<ConflictFact> facts;
  /// Where no change of one fact is enough: changes that are, made together.
  std::vector<std::string> together;
  std::string text;  ///< one or two plain sentences about all of it
};

struct Conflicts {
  std::vector<Conflict> all;  ///< those not filmed first, then those short, as the plan lists them
  bool stopped = false;       ///< there may be more to say
};

/// Told before each conflict: how many are done, of how many.
using ConflictProgress = std::function<void(std::size_t done, std::size_t of)>;

/// The conflict behind every entry of the plan's `not_filmed` and `unfilled`. Facts are what people
/// wrote about time, people, looks, stations, items and the scene itself; what makes a scene
/// dangerous (tags, hazards) is never one, for it is not to be argued away.
/// \param plan  of this production, by these wishes
/// \param stop  when it says so, the rest is left out
/// Cost: some hundreds of questions each (explain/conflict/alone.h). Threads: pure, but for what
/// make_plan() starts.
Conflicts conflicts_of(const Production& production,
                       const Wishes& wishes,
                       const Plan& plan,
                       Stop& stop,
                       const ConflictProgress& progress = {});

/// The same for the entries of one scene; empty: nothing of it is left out.
Conflicts conflicts_of_scene(const Production& production,
                             const Wishes& wishes,
                             const Plan& plan,
                             SceneId scene,
                             Stop& stop);

/// As JSON: an object with the list "cannot" (docs/cannot.md); ends in a newline.
std::string write_conflicts(const Production& production, const Conflicts& conflicts);
/// That list alone, under its key, into an object that is being written.
void add_conflicts(JsonWriter& writer, const Production& production, const Conflicts& conflicts);
/// As text; its lines are not broken. Empty where there is no conflict.
std::string conflicts_as_text(const Conflicts& conflicts);

}  // namespace gp
