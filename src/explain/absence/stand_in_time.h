#pragma once

#include "model/check.h"
#include "model/day_frame.h"
#include "model/engagements.h"
#include "model/plan.h"
#include "model/production.h"
#include "search/stays.h"

#include <map>
#include <vector>

namespace gp::absence {

/// Time that a duty takes, and where it begins and ends.
struct Need {
  std::size_t day = 0;  ///< of the plan
  Span time;
  PlaceId from, to;
  LookId look;                      ///< put on in that time, or worn; none: as themselves
  bool any_look = true;             ///< what they have on does not matter
  std::vector<ItemId> things = {};  ///< that the plan gives out for the look
};

/// Whether somebody has time in a plan for what another does in it, with nothing else moving.
class StandInTime {
 public:
  /// \param plan  outlives this
  StandInTime(const Production& production, const Plan& plan, Answers answers);

  /// Whether the stand-in is free for all of it, and the things that are given out fit them.
  [[nodiscard]] bool has(PersonId id, PersonId missing, const std::vector<Need>& needs) const;
  /// Whether the plan has anything for them to do, on any day.
  [[nodiscard]] bool on_site(PersonId id) const;

 private:
  [[nodiscard]] bool day_holds(PersonId id,
                               PersonId missing,
                               std::size_t d,
                               const std::vector<Span>& times) const;
  [[nodiscard]] bool fits(PersonId id, const Need& need) const;

  const Production& production_;
  const Plan& plan_;
  std::vector<DayFrame> frames_;
  std::vector<std::map<PersonId, std::vector<BusyRow>>> busy_;
  std::vector<Ground> grounds_;
  std::vector<std::map<PersonId, PersonDay>> rows_;
};

}  // namespace gp::absence
