#pragma once

#include "model/check.h"
#include "model/production.h"

#include <algorithm>
#include <cstddef>
#include <vector>

namespace gp {

/// Something a scene needs people for: a part, heads of a crowd, or places behind the camera.
struct Slot {
  enum class Kind { part, crowd, crew };
  Kind kind = Kind::part;
  RoleId role;           ///< part, crowd
  std::size_t call = 0;  ///< crew: which entry of Production::crew_of()
  int people = 1;
  /// Everybody who may, by answer, `person`, `from`, `needs`, sizes and what they will not do,
  /// and who is not the only one to help with the look; in the order of the file. Whether they are
  /// free then is another matter.
  std::vector<PersonId> candidates;
  [[nodiscard]] bool may(PersonId who) const {
    return std::find(candidates.begin(), candidates.end(), who) != candidates.end();
  }
};

/// Each scene's slots in the order they are best filled: parts first, then what fewest could fill.
class Slots {
 public:
  Slots(const Production& production, Answers answers);

  [[nodiscard]] const std::vector<Slot>& of(SceneId scene) const { return slots_[scene]; }
  /// Who may play a part in all of its scenes.
  [[nodiscard]] const std::vector<PersonId>& for_part(RoleId role) const { return parts_[role]; }
  /// Who may play it in one of them at least: where nobody may in all, some are lost.
  [[nodiscard]] const std::vector<PersonId>& for_some_of_part(RoleId role) const {
    return some_[role];
  }
  /// The scenes a role is in.
  [[nodiscard]] const std::vector<SceneId>& scenes_of(RoleId role) const { return scenes_[role]; }

 private:
  Table<SceneId, std::vector<Slot>> slots_;
  Table<RoleId, std::vector<PersonId>> parts_, some_;
  Table<RoleId, std::vector<SceneId>> scenes_;
};

}  // namespace gp
