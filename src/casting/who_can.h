#pragma once

#include "casting/slots.h"
#include "model/production.h"

#include <cstddef>
#include <vector>

namespace gp {

/// Who is free for which scene, by hours alone: whether one of their spans on a day the scene may
/// be filmed on holds signing in, the way and the shot, within the hours of the day and of the
/// scene. Light is not looked at.
class FreeFor {
 public:
  FreeFor(const Production& production, Answers answers);

  /// The days the scene may be filmed on.
  [[nodiscard]] const std::vector<DayId>& days_of(SceneId scene) const { return days_[scene]; }
  [[nodiscard]] bool on(SceneId scene, DayId day, PersonId person) const {
    return free_[scene][day.index()][person.index()] != 0;
  }
  [[nodiscard]] bool ever(SceneId scene, PersonId person) const;

 private:
  Table<SceneId, std::vector<DayId>> days_;
  Table<SceneId, std::vector<std::vector<char>>> free_;  ///< by scene, day, person
};

/// A helper at a chair: somebody who can `skill` there.
struct HelperNeed {
  StationId station;
  std::string skill;
  std::vector<PersonId> people;  ///< by answer and skill
  std::vector<SceneId> scenes;   ///< in which somebody has a look on that needs them
};

/// Every helper that the looks of the scenes need, on or off, in the order of the file.
std::vector<HelperNeed> helpers_needed(const Production& production, Answers answers);

}  // namespace gp
