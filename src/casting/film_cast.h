#pragma once

#include "casting/cast_problem.h"
#include "casting/slots.h"
#include "model/day_frame.h"
#include "model/production.h"

#include <vector>

namespace gp {

/// The days that are cast for, and when each scene's shot may stand on each of them.
struct CastDays {
  std::vector<DayFrame> frames;
  std::vector<Table<SceneId, std::vector<Span>>> windows;  ///< by day as in `frames`
};

/// The casting of a film, as numbers. Places of a scene stand in the order of Slots::of(); parts
/// are numbered as the roles (a crowd's row is empty).
///
/// Before there is an order every scene is looked at alone: somebody can be at a moment where they
/// are free from the call for the first step of the look to the last step off (crew: from the
/// set-up on). Chairs, meals and the rest of the day are the plan's business. Two scenes certainly
/// overlap where each can stand at one moment only, on the same day, and the shots or the ways
/// between them do; where they do not but the time between is too short for the looks of two parts,
/// those parts are apart.
class FilmCast {
 public:
  FilmCast(const Production& production, Answers answers, const CastDays& days);

  [[nodiscard]] const CastProblem& problem() const { return problem_; }
  [[nodiscard]] const Slots& slots() const { return slots_; }

  /// The free time somebody needs to be in that place of the scene when the shot begins then.
  [[nodiscard]] Span needed(SceneId scene, const Slot& slot, std::size_t day, Minute shot) const;
  /// Whether they have it.
  [[nodiscard]] bool can_be(
      PersonId who, SceneId scene, const Slot& slot, std::size_t day, Minute shot) const;

 private:
  void add_scene(SceneId id);
  void add_parts();
  void add_groups();
  void add_people();
  [[nodiscard]] std::vector<Minute> starts(SceneId id, std::size_t day) const;
  [[nodiscard]] Minutes look_time(const std::vector<Step>& chain,
                                  PlaceId from,
                                  PlaceId to,
                                  std::size_t day) const;
  void find_openings(SceneId id);

  const Production& production_;
  const CastDays& days_;
  Slots slots_;
  CastProblem problem_;
};

}  // namespace gp
