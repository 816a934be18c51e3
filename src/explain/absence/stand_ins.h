#pragma once

#include "casting/random_days.h"
#include "model/check.h"
#include "model/plan.h"
#include "model/production.h"

#include <string>
#include <utility>
#include <vector>

// What a plan is worth when people stay away: who could stand in for whom without anything else of
// the plan moving, and how likely it is that every scene is filmed.

namespace gp::absence {

/// Something one person does in the plan that another would have to do if they stayed away.
struct Duty {
  enum class Kind { part, crowd, crew, helper };
  Kind kind = Kind::part;
  PersonId person;
  RoleId role;                  ///< part, crowd
  std::string job;              ///< crew: the job; helper: the skill
  StationId station;            ///< helper
  std::vector<SceneId> scenes;  ///< a part: all of its; a helper: whose looks they put on or off
  std::vector<std::pair<DayId, Span>> when;  ///< from the first step of a look to the end of it
  /// The first of those duties of this person that stand in the list and go on in one look without
  /// a break: one stand-in takes them all. This duty's own number otherwise.
  std::size_t shared_with = 0;
  /// Who may, and has nothing to do then, from the call to the end of it, the ways included; in the
  /// look's own chair, with its own helper and in the things that the plan gives out for it, so
  /// that nobody else's time changes: whom one of these things does not fit is none, though another
  /// of its `instead` may. Those who are on site that day anyway first, then the likelier ones.
  std::vector<PersonId> stand_ins;

  /// Whether its scenes are not filmed without it.
  [[nodiscard]] bool decides() const { return kind == Kind::part || kind == Kind::helper; }
};

struct SceneChance {
  SceneId scene;
  Likelihood filmed;  ///< that its parts are played and their looks can be put on
};

struct Survival {
  std::vector<Duty> duties;         ///< parts, crowds, crew, helpers
  Likelihood all_filmed;            ///< of the scenes that the plan films
  std::vector<SceneChance> scenes;  ///< the one that would fail first (least likely) first
};

/// A scene is filmed when each of its parts has its person or a stand-in, and so has each helper of
/// these parts' looks; a stand-in takes one duty of the day (a matching). Crowds and crew may be
/// short, as in any plan. The chance is a lower limit: other changes of the plan might do too.
/// \param plan  right for the answers. Cost: 10,000 matchings a scene where many may stay away.
Survival survival_of(const Production& production,
                     const Plan& plan,
                     Answers answers,
                     std::uint64_t seed = 1);

/// Parts and helpers alone, without the chances of single scenes: Survival::all_filmed and those of
/// Survival::duties that decide over it. Much cheaper.
Survival short_survival_of(const Production& production,
                           const Plan& plan,
                           Answers answers,
                           std::uint64_t seed = 1);

/// Who may do a duty by answer, skills and what they will not do, whatever else they do then.
std::vector<PersonId> who_may(const Production& production, const Duty& duty, Answers answers);

}  // namespace gp::absence
