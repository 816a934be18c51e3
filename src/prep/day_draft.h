#pragma once

#include "base/ids.h"
#include "base/spans.h"
#include "model/day_frame.h"
#include "model/plan.h"
#include "model/production.h"
#include "prep/counted_use.h"
#include "prep/staff.h"
#include "prep/station_day.h"
#include "prep/timeline.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace gp {

/// What a person-sized attempt failed on, and when it is worth trying again.
enum class Snag { none, busy, look, chair, holds, item, meal };

/// Somebody who is to help at a station then, rather than others.
struct HelpHint {
  PersonId who;
  Span when;
};
using HelpHints = Table<StationId, std::vector<HelpHint>>;

/// One day while it is being planned: always right as far as it goes. Every add_… either does all
/// of its work (chains laid, staff and chairs taken, items held, meals and free spans kept) or
/// leaves nothing behind. Changes are journaled, so a larger attempt can be taken back to a mark.
/// Threads: one draft a thread.
class DayDraft {
 public:
  DayDraft(const Production& production, const DayFrame& frame, const StaffLists& staff);

  using Mark = std::size_t;
  /// A point to come back to. Marks nest.
  Mark mark();
  void rollback(Mark to);
  /// Empties the day and sets the times of the meals taken together (by meal; none: not held) and
  /// how loath each person is to be taken where there is a choice (minutes; may be negative).
  /// \param hints  by station; may be null
  void begin(const std::vector<std::optional<Minute>>& together,
             const Table<PersonId, int>* reluctance,
             const HelpHints* hints = nullptr);

  /// \name Scenes
  /// @{
  struct UnitDay {
    SceneId last;    ///< none: nothing filmed yet
    Minute until{};  ///< when it was free again
  };
  /// The minutes the scene's set-up takes if it is the unit's next.
  [[nodiscard]] Minutes set_up(SceneId scene) const;
  /// The earliest moment the unit could begin to set the scene up.
  [[nodiscard]] Minute unit_free(SceneId scene) const;
  /// When all its props could be taken: a span in which some prop is out yields the last such
  /// minute.
  [[nodiscard]] std::optional<Minute> props_out(SceneId scene, Span set_to_end) const;
  /// Takes the props: before the people, whose looks may want the same things. Requires that they
  /// are free.
  void take_props(SceneId scene, Span set_to_end);
  /// Takes the unit: after the people, for set_up() tells of the unit's next scene.
  void take_unit(SceneId scene, Span shot);
  /// @}

  /// \name People
  /// @{
  bool add_cast(PersonId who, const Role& role, SceneId scene, Span shot);
  bool add_crew(PersonId who, SceneId scene, Span set_to_end);
  /// Why the last add_… said no, and the earliest shot for which it might not.
  [[nodiscard]] Snag snag() const { return snag_; }
  [[nodiscard]] Minute retry_at() const { return retry_at_; }
  /// About how many more weighted minutes it costs to have this person in a scene then, in this
  /// look if `look` is valid.
  [[nodiscard]] std::int64_t estimate(PersonId who, LookId look, Span span) const;
  /// @}

  [[nodiscard]] const PersonDay& person(PersonId who) const { return people_[who]; }
  [[nodiscard]] const Ground& ground() const { return ground_; }
  [[nodiscard]] const DayFrame& frame() const { return frame_; }
  [[nodiscard]] const UnitDay& unit(UnitId id) const { return units_[id]; }
  [[nodiscard]] std::uint64_t work() const { return work_; }

 private:
  struct Step {  // what find_step() needs to know of one step
    const gp::Step* spec;
    const std::vector<PersonId>* staff;
  };
  enum class Way { backwards, forwards };
  enum class Kind : std::uint8_t { person, station, unit, item, seats };
  struct Change {
    Kind kind;
    std::size_t index;
    Span span;   // item, seats
    int amount;  // item, seats
  };

  PersonDay& touch(PersonId who);
  StationDay& touch(StationId which);
  void use_item(ItemId item, Span span, int amount);
  void use_seats(std::size_t meal, Span span, int amount);

  bool say(Snag snag) {
    snag_ = snag;
    return false;
  }
  bool try_cast(PersonId who, const Role& role, SceneId scene, Span shot);
  bool cast_in_look(PersonId who, LookId look, const Engagement& shot);
  bool wear_on(PersonId who, std::size_t at, const Engagement& shot);
  bool wear_earlier(PersonId who, std::size_t at, const Engagement& shot);
  bool wear_anew(PersonId who, LookId look, const Engagement& shot);
  bool engage(PersonId who, const Engagement& engagement);
  bool engage_around_looks(PersonId who, const Engagement& engagement, Minute off_by);

  [[nodiscard]] std::optional<std::size_t> block_before(PersonId who, Minute moment) const;
  [[nodiscard]] Minute look_limit_after(PersonId who, std::size_t block) const;
  [[nodiscard]] Minute look_limit_before(PersonId who, std::size_t block) const;
  void lift(PersonId who, std::size_t at, ChainPart part);
  bool lay_on(PersonId who, std::size_t at);
  bool lay_off(PersonId who, std::size_t at, Minute by);
  bool hold_items(PersonId who, std::size_t at);
  void let_go(Block& block);

  std::optional<PlacedStep> find_step(
      Way way, PersonId who, const Step& step, Minute not_before, Minute not_after);
  struct StaffFound {
    Minute start;
    PersonId who;
  };
  std::optional<StaffFound> find_staff(
      Way way, PersonId wearer, const Step& step, Minute not_before, Minute not_after);
  [[nodiscard]] bool hinted(StationId station, PersonId who, Minute start) const;
  std::optional<Minute> staff_start(
      Way way, PersonId who, const Step& step, Minute not_before, Minute not_after);
  static std::vector<Engagement>::const_iterator readying(const PersonDay& day, StationId station);
  bool could_ready(const PersonDay& day, PersonId who, StationId station, Minute before);
  bool take_step(PersonId who, const PlacedStep& placed);
  void drop_step(PersonId who, const PlacedStep& placed);
  void drop_ready(PersonId who, StationId station, Minute before);
  bool ensure_ready(PersonId who, StationId station, Minute before);

  bool settle_since(Mark since);
  bool settle(PersonId who);
  bool seat(PersonId who, std::size_t meal);

  const Production& production_;
  const DayFrame& frame_;
  const StaffLists& staff_;
  const Table<PersonId, int>* reluctance_ = nullptr;
  const HelpHints* hints_ = nullptr;
  Ground ground_;

  Table<PersonId, PersonDay> people_;
  Table<StationId, StationDay> stations_;
  Table<UnitId, UnitDay> units_;
  Table<ItemId, CountedUse> items_;
  std::vector<CountedUse> seats_;  // by meal

  std::vector<Change> journal_;
  /// Copies to go back to; those above the count in use are kept for the memory they own.
  std::vector<PersonDay> saved_people_;
  std::vector<StationDay> saved_stations_;
  std::size_t people_saved_ = 0;
  std::size_t stations_saved_ = 0;
  std::vector<UnitDay> saved_units_;
  std::uint64_t epoch_ = 1;

  Snag snag_ = Snag::none;
  Minute retry_at_{};
  std::uint64_t work_ = 0;
};

}  // namespace gp
