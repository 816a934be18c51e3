#pragma once

#include "explain/why/why.h"
#include "model/day_frame.h"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

// Inside of the reasons alone: one day of a plan, looked at from each person's and each station's
// side.

namespace gp::why {

/// An engagement, and where in the day's lists it stands.
struct Row {
  WhyEngagement kind{};
  Span time;
  PlaceId place;          ///< none: a meal
  std::size_t index = 0;  ///< in the day's scenes, steps, ready or meals
};
using Rows = std::vector<Row>;

/// Where a step stands among the others of its look.
struct StepFrame {
  const PlannedStep* step = nullptr;
  const Step* written = nullptr;
  const Wear* wear = nullptr;
  const PlannedStep* before = nullptr;  ///< the step before it in its chain
  const PlannedStep* next = nullptr;    ///< the step after it in its chain
  const PlannedScene* first = nullptr;  ///< first scene in this look
  const PlannedScene* last = nullptr;
};

class PlannedDay {
 public:
  PlannedDay(const Production& film, const Plan& plan, std::size_t number, Answers answers);

  [[nodiscard]] const Rows& rows(PersonId person) const;
  /// The rows without one of them.
  [[nodiscard]] Rows without(PersonId person, WhyEngagement kind, std::size_t index) const;
  /// A helper's rows when somebody else does that step: without it, and without getting the station
  /// ready where it was their only step there.
  [[nodiscard]] Rows freed_of(PersonId helper, std::size_t step) const;
  [[nodiscard]] const Stay* stay(PersonId person) const;
  [[nodiscard]] StepFrame frame_of(std::size_t step) const;

  /// The row that leaves no room for an engagement then and there (it overlaps, or the way is too
  /// long); none: it fits.
  [[nodiscard]] std::optional<Row> in_the_way(const Rows& rows, Span time, PlaceId place) const;
  /// Whether no two overlap and the ways between them can be walked.
  [[nodiscard]] bool consistent(const Rows& rows) const;
  /// The call for these engagements; none: no clock shows it, or there are none.
  [[nodiscard]] std::optional<Minute> call_of(const Rows& rows) const;
  /// Whether nobody with these engagements is called earlier or released later than now.
  [[nodiscard]] bool stays_within(PersonId person, const Rows& rows) const;
  [[nodiscard]] bool nameable(Span time) const {
    return frame.nameable(time.from) && frame.nameable(time.until);
  }
  [[nodiscard]] bool able(PersonId helper, const PlannedStep& step, const Step& written) const;
  /// From when the person has the station ready; none: never on this day.
  [[nodiscard]] std::optional<Minute> ready_from(PersonId person, StationId station) const;
  /// The use of an item by others is at its most in the span, with `count` more: it is out.
  [[nodiscard]] bool runs_out(
      ItemId item, int count, Span time, const Wear* but_wear, const PlannedScene* but_scene) const;

  [[nodiscard]] std::string at(Minute moment) const;
  [[nodiscard]] std::string span(Span time) const;
  [[nodiscard]] const std::string& name(PersonId id) const { return film.people[id].shown(); }
  /// What an engagement is, for a clause: "paints …" is said by words.h.
  [[nodiscard]] std::string what(const Row& row, PersonId whose) const;

  const Production& film;
  const Plan& plan;
  const DayPlan& day;
  Answers answers;
  DayFrame frame;

 private:
  std::map<PersonId, Rows> rows_;
  Rows none_;
};

/// Puts a row where it belongs in time.
void insert(Rows& rows, const Row& row);

/// "a", "a and b", "a, b and c"; more than `most`: "a, b and 3 more".
std::string listed(const std::vector<std::string>& parts, std::size_t most = 4);
/// The causes as clauses, at most so many: the same other scene is told once, with how many people
/// it concerns; "and 3 more reasons" for the rest.
std::vector<std::string> clauses_of(const std::vector<WhyCause>& causes, std::size_t most);
/// "one minute", "6 minutes".
std::string minutes_text(Minutes length);

}  // namespace gp::why
