#pragma once

#include "casting/random_days.h"
#include "model/production.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

// How many to ask, and whom first. Everybody in the file counts with the chance of their answer
// (casting/turnout.h); who answers `no` counts nowhere. A person counts for a scene where they may
// play or help in it and are free on a day it may be filmed on, long enough to sign in, walk there
// and be in the shot. Chairs and the order of the scenes are the plan's business: the true chance
// is smaller for them.

namespace gp {

/// How sure one wants to be.
inline constexpr std::array<double, 3> kHowSure = {0.90, 0.95, 0.99};

/// Whether a firm yes would change their chance: they said maybe or have not answered, and no
/// `turnout` of their own is written.
bool yes_would_be_news(const Person& person);

/// What makes one row as sure as that.
struct AskedFor {
  double sure = 0;
  /// A firm yes from so many of `ask_first`, in its order, and `more` others asked after them.
  int yeses = 0;
  std::optional<int> more;         ///< none: however many are asked, it is not enough
  std::optional<int> others_only;  ///< asking others alone; none: never enough
  bool operator==(const AskedFor&) const = default;
};

/// People of one kind that are needed at once: the scene that needs most of them decides.
struct NeedRow {
  enum class Kind { part, crowd, crew, helper };
  Kind kind = Kind::crowd;
  RoleId role;                  ///< part, crowd
  std::string job;              ///< crew; helper: the skill
  StationId station;            ///< helper: whoever puts looks on or takes them off there
  std::vector<SceneId> scenes;  ///< that need them, those that need `wanted` first
  int wanted = 0;
  std::vector<PersonId> people;  ///< who may and can come, in the order of the file
  double expected = 0;           ///< how many of them come on average
  double chance = 1;             ///< that `wanted` of them come; exact
  /// Who else may be asked: anybody; whoever has `needs` and minds nothing; nobody but by changing
  /// the file, for people are named there.
  enum class Others { anybody, with_skill, named } others = Others::anybody;
  Tags needs;
  std::vector<PersonId>
      ask_first;                ///< those of `people` whose yes would be news, best chance first
  std::vector<AskedFor> asked;  ///< one for each wish; empty for `named` parts
};

/// Somebody whose firm yes would help.
struct Yes {
  PersonId person;
  double raises = 0;  ///< the chance of the whole by so much
};

/// Everything at once, nobody counted twice.
struct WholeChance {
  std::optional<DayId> day;  ///< the scenes that can be filmed on this day alone; none: all scenes
  std::size_t scenes = 0;
  Likelihood chance;
  /// Others to ask for each wish, each coming with `each`, thought good for any crowd or job that
  /// asks for no skill and names nobody; none: they alone can never do it.
  std::vector<std::optional<int>> others;
  std::vector<Yes> best_yes;  ///< best first; whoever raises nothing that can be seen is left out
  /// Parts with a choice are tried out against each other; on so large a share of the days that was
  /// cut short, and the part is thought filled: the chance is an upper limit by as much.
  double cut_short = 0;
};

struct Asking {
  std::vector<double> sure;        ///< the wishes
  double each = 0;                 ///< the chance of others
  std::vector<NeedRow> rows;       ///< parts, crowds, crew, helpers; in the order of the file
  std::vector<WholeChance> whole;  ///< each day that has scenes of its own, then the production
};

/// \param sure  0 .. 1 each \param each  0 .. 1
/// Cost: seconds for 200 people in 50 scenes. Threads: pure. Same input, same answer.
Asking how_to_ask(const Production& production,
                  const std::vector<double>& sure,
                  double each,
                  std::uint64_t seed = 1);

}  // namespace gp
