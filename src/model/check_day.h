#pragma once

#include "base/ids.h"
#include "base/spans.h"
#include "model/check.h"
#include "model/engagements.h"
#include "model/plan.h"
#include "model/production.h"
#include "time/day_clock.h"

#include <map>
#include <string>
#include <string_view>
#include <vector>

// Inside of the checker alone: what every rule looks at, drawn together once from the production
// and the plan. The rules themselves are in check_*.cpp, one function each.

namespace gp::checking {

/// A step of the plan that belongs to a wear, with what the production says of it.
struct WornStep {
  const PlannedStep* planned = nullptr;
  const Step* written = nullptr;
};

/// A shot that a wear is worn in.
struct WornScene {
  SceneId scene;
  Span shot;
};

/// One stretch of a person in a look, with the steps and shots that lie within it.
struct Worn {
  const Wear* wear = nullptr;
  std::vector<WornStep> on, off;  ///< by number, then start
  std::vector<WornScene> scenes;
  bool whole = false;  ///< every step of both chains is there, once
};

/// A step of the plan; `written` null: its chain has no such step; `worn` false: it lies in no wear
/// of its look, or in several.
struct JudgedStep {
  const PlannedStep* planned = nullptr;
  const Step* written = nullptr;
  bool worn = false;
};

/// One day of the plan.
struct JudgedDay {
  const DayPlan* plan = nullptr;
  const Day* day = nullptr;
  CalendarDay calendar;
  std::map<PersonId, std::vector<BusyRow>> engagements;
  std::map<UnitId, std::vector<const PlannedScene*>> units;  ///< by the scene's own unit and set_at
  std::vector<JudgedStep> steps;
  std::map<PersonId, std::vector<Worn>> worn;  ///< by start

  /// The wears of a person that the look's shot lies within.
  [[nodiscard]] std::vector<const Worn*> wears_over(PersonId who, LookId look, Span shot) const;
  /// A moment and a span as the wall shows them, for messages.
  [[nodiscard]] std::string clock(Minute moment) const;
  [[nodiscard]] std::string clock(Span span) const;
  [[nodiscard]] Minute elapsed(WallTime wall) const { return calendar.elapsed(wall); }
  [[nodiscard]] Span elapsed(WallSpan wall) const { return calendar.elapsed(wall); }
};

/// Where and when a scene is filmed, as often as the plan says.
struct Filming {
  DayId day;
  const PlannedScene* planned = nullptr;
};

struct Judged {
  const Production* production = nullptr;
  const Plan* plan = nullptr;
  Answers answers;
  std::vector<JudgedDay> days;
  Table<SceneId, std::vector<Filming>> filmed;

  Judged(const Production& the_production, const Plan& the_plan, Answers the_answers);
};

/// What is broken so far.
class Findings {
 public:
  void add(int rule, std::string where, std::string what) {
    broken_.push_back({rule, std::move(where), std::move(what)});
  }
  [[nodiscard]] std::size_t size() const { return broken_.size(); }
  /// In order of rule; within a rule in the order found.
  [[nodiscard]] std::vector<Broken> take();

 private:
  std::vector<Broken> broken_;
};

/// Puts words and numbers together to one phrase.
template <class... Parts>
std::string phrase(const Parts&... parts) {
  std::string text;
  const auto add = [&text](const auto& part) {
    using Part = std::decay_t<decltype(part)>;
    if constexpr (std::is_same_v<Part, Minutes>) {
      text += std::to_string(part.count());
    } else if constexpr (std::is_integral_v<Part>) {
      text += std::to_string(part);
    } else {
      text += part;
    }
  };
  (add(parts), ...);
  return text;
}

void rule_1_scenes(const Judged& judged, Findings& findings);
void rule_2_units(const Judged& judged, Findings& findings);
void rule_3_people(const Judged& judged, Findings& findings);
void rule_4_windows(const Judged& judged, Findings& findings);
/// The part of rule 4 that concerns scenes; rule_4_windows() asks it.
void windows_of_scenes(const Judged& judged, Findings& findings);
void rule_5_light(const Judged& judged, Findings& findings);
void rule_6_looks(const Judged& judged, Findings& findings);
void rule_7_stations(const Judged& judged, Findings& findings);
void rule_8_items(const Judged& judged, Findings& findings);
void rule_9_casting(const Judged& judged, Findings& findings);
void rule_10_meals(const Judged& judged, Findings& findings);
void rule_11_calls(const Judged& judged, Findings& findings);

}  // namespace gp::checking
