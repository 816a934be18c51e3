#pragma once

#include "model/check.h"
#include "model/plan.h"
#include "model/production.h"

#include <string>
#include <utility>
#include <vector>

// Who could stand in for whom without anything else of a plan moving.

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

/// All duties of the plan with their stand-ins: parts, crowds, crew, helpers.
/// \param deciding  parts and helpers alone
std::vector<Duty> duties_of(const Production& production,
                            const Plan& plan,
                            Answers answers,
                            bool deciding);

/// Who may do a duty by answer, skills and what they will not do, whatever else they do then.
std::vector<PersonId> who_may(const Production& production, const Duty& duty, Answers answers);

}  // namespace gp::absence
