#pragma once

#include "model/plan.h"
#include "model/production.h"
#include "time/day_clock.h"

#include <map>
#include <set>
#include <string>
#include <vector>

namespace gp {

/// Anything that occupies a person, as the plan says it; what does not apply is none.
struct DayEngagement {
  enum class Kind { step, staffing, ready, cast, crew, meal };
  Kind kind = Kind::step;
  Minute from, until;
  PlaceId place;  ///< none for a meal
  SceneId scene;
  RoleId role;
  StationId station;
  int station_place = 0;  ///< of an own step, from 1
  LookId look;
  ChainPart part = ChainPart::on;
  PersonId by;       ///< who does an own step
  int people = 0;    ///< staffing: how many are done one after the other
  std::string name;  ///< job or meal
};

/// What a day's sheets are made of, looked up once from the plan.
/// Keeps references: production and plan must outlive it.
class DayFacts {
 public:
  DayFacts(const Production& production, const DayPlan& plan);

  [[nodiscard]] const Production& production() const { return production_; }
  [[nodiscard]] const DayPlan& plan() const { return plan_; }
  [[nodiscard]] const Day& day() const { return production_.days[plan_.day]; }
  [[nodiscard]] const CalendarDay& calendar() const { return calendar_; }

  /// In order of time; steps staffed in a row at one station are one.
  [[nodiscard]] const std::vector<DayEngagement>& engagements(PersonId person) const {
    return engagements_[person];
  }
  /// What a person is on the day in a word or two: parts, then jobs, then stations staffed; in
  /// order of time, none twice.
  [[nodiscard]] std::vector<std::string> parts(PersonId person) const;
  /// The crowd a person is first in; none: a part of their own, or never on camera.
  [[nodiscard]] RoleId first_crowd(PersonId person) const;
  /// Has a guardian, or is under 18 on the day.
  [[nodiscard]] bool is_child(PersonId person) const;
  /// Whose guardian the person is, among those who come this day.
  [[nodiscard]] std::vector<const Stay*> children_of(PersonId guardian) const;

  /// Keys of cautions: hazards of scenes, tags of looks and parts that are hazards, and
  /// "face-paint", "painting" (who paints others), "children", "weather" (outdoors). Sorted by
  /// hazard_order().
  [[nodiscard]] std::vector<std::string> cautions(PersonId person) const;
  [[nodiscard]] std::vector<std::string> cautions() const;  ///< of the day

  /// What the clock on the wall shows: "08:05", and "01:30⁺¹" after midnight.
  [[nodiscard]] std::string clock(Minute moment) const;
  [[nodiscard]] std::string clocks(Minute from, Minute until) const;
  [[nodiscard]] std::string clocks(WallSpan span) const;
  /// Whether anything of the day is after midnight, so that the mark needs a word.
  [[nodiscard]] bool passes_midnight() const;
  /// Sunrise and sunset at the base to the minute; empty where it has no place on earth or the sun
  /// does not do both on the day.
  [[nodiscard]] std::optional<Span> sun() const;

 private:
  void read_steps();
  void read_scenes();
  void merge_staffing();

  const Production& production_;
  const DayPlan& plan_;
  CalendarDay calendar_;
  Table<PersonId, std::vector<DayEngagement>> engagements_;
};

/// The hazards that have cautions of their own, in the order in which they are printed.
const std::vector<std::string>& known_cautions();

/// "HH:MM", the hour within 0 .. 23; "⁺¹" after it for each day past midnight (⁻¹ before).
std::string clock_text(WallTime wall);

}  // namespace gp
