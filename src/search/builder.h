#pragma once

#include "base/stop.h"
#include "prep/day_draft.h"
#include "search/cost.h"
#include "search/problem.h"
#include "search/recipe.h"

#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

namespace gp {

/// A scene as placed, with the people found for each of its slots.
struct Filmed {
  std::size_t day = 0;  ///< index into Problem::days
  Minute set_at{}, shoot_at{}, until{};
  std::vector<std::vector<PersonId>> people;  ///< by slot, as in Slots::of()
};

/// Turns a recipe into a draft of all days: scene by scene in the recipe's order, each as early as
/// its unit, its light and its people allow, its people's looks worked backwards from the shot. The
/// draft is right after every scene, so it may be read at any time. Source: serial schedule
/// generation, Kolisch 1996, doi:10.1016/0377-2217(95)00357-6; here with the preparations of each
/// scene generated backwards. Threads: one builder a thread.
class Builder {
 public:
  explicit Builder(const Problem& problem);

  /// \param stop  when it says so, the scenes not yet placed are left out
  Cost build(const Recipe& recipe, Stop& stop);
  /// Whether the last build was stopped before its end.
  [[nodiscard]] bool cut_short() const { return cut_short_; }

  [[nodiscard]] const std::optional<Filmed>& filmed(SceneId scene) const { return filmed_[scene]; }
  /// Who plays a part, in all scenes filmed; none: it is in none of them.
  [[nodiscard]] PersonId player(RoleId part) const { return playing_[part]; }
  [[nodiscard]] const DayDraft& day(std::size_t index) const { return days_[index]; }
  /// Why this person cannot be had besides for a scene as placed; Snag::none: they could. The draft
  /// is left as it was.
  Snag try_besides(PersonId who, const Slot& slot, SceneId scene);
  /// Starts tried and engagements looked at since the beginning: a measure of time that is the same
  /// on every machine.
  [[nodiscard]] std::uint64_t work() const;

 private:
  struct Fill {
    bool parts = false;    ///< every part is played
    int missing = 0;       ///< heads of crowds and crew
    Minute retry_at{};     ///< where a part is not: the earliest shot worth trying
    bool chairs = false;   ///< some of the missing want for time at the stations, not for people
    Minutes chair_time{};  ///< that the fullest station would need for those missing
  };

  /// How many scenes of the recipe's order come out as they last did, so that their draft can stay.
  [[nodiscard]] std::size_t same_as_last(const Recipe& recipe) const;
  /// Whether the day would begin otherwise than for the last recipe.
  [[nodiscard]] bool other_day(const Recipe& recipe, std::size_t day) const;
  /// Whether the scene, as it last came out, says nothing of that day.
  [[nodiscard]] bool apart_from(SceneId scene, std::size_t day) const;
  void take_back_to(std::size_t placed);
  void place(SceneId scene);
  bool place_on(SceneId scene, std::size_t day);
  Fill fill(SceneId scene, std::size_t day, Span shot);
  bool fill_part(const Slot& slot, SceneId scene, std::size_t day, Span shot, Fill& result);
  void fill_heads(
      const Slot& slot, std::size_t index, SceneId scene, std::size_t day, Span shot, Fill& result);
  bool take(PersonId who, const Slot& slot, SceneId scene, std::size_t day, Span shot);
  [[nodiscard]] bool in_scene(PersonId who) const;
  /// Whether they could never play the part in this scene, and could in another.
  [[nodiscard]] bool kept_for_others(PersonId who, RoleId part, SceneId scene) const;
  /// Whether a part that only they can play is still to be filmed.
  [[nodiscard]] bool awaited(PersonId who) const;
  /// What taking somebody of each sort costs the scenes still to come [min].
  [[nodiscard]] std::vector<std::int64_t> demands() const;
  [[nodiscard]] Cost price() const;

  const Problem& problem_;
  const Recipe* recipe_ = nullptr;
  Stop* stop_ = nullptr;
  bool cut_short_ = false;
  /// The recipe's, by day, where the days can see it after the recipe is gone.
  std::vector<Table<PersonId, int>> reluctance_;
  std::vector<DayDraft> days_;
  Table<SceneId, std::optional<Filmed>> filmed_;
  Table<PersonId, std::vector<SceneId>> certain_;  ///< with a part that only they can play
  /// How much of somebody the crowds and crews of each scene ask: their heads over those who may be
  /// among them, in thousandths. People asked for alike are of one sort.
  using Demand = std::vector<std::pair<SceneId, std::int64_t>>;
  std::vector<Demand> sorts_;
  Table<PersonId, std::size_t> sort_of_;
  Table<PersonId, char> picked_;     ///< for the slot being filled
  std::vector<std::int64_t> later_;  ///< demands() while a scene is being placed
  Table<RoleId, PersonId> playing_;  ///< who plays each part, once it has been played
  /// What the draft now standing was built from, and where each of its scenes began in the
  /// journals.
  std::optional<Recipe> last_;
  struct Placed {
    SceneId scene;
    std::vector<DayDraft::Mark> marks;  ///< by day
    std::vector<RoleId> gave;           ///< parts first played in it
  };
  std::vector<Placed> placed_;
  std::vector<std::vector<PersonId>> people_;  ///< of the scene being filled, by slot
  std::uint64_t tries_ = 0;                    ///< starts tried, and scenes placed
  std::vector<RoleId> newly_;                  ///< parts first given to somebody in that scene
};

}  // namespace gp
