#pragma once

#include "cli/terminal.h"
#include "model/plan.h"
#include "model/production.h"
#include "time/day_clock.h"

#include <cstddef>
#include <string>
#include <vector>

// A plan as text for a terminal, made from the plan and its production alone. Every name is made
// harmless; columns line up with wide and combining characters; no line is wider than `columns`
// unless the terminal is narrower than 40.

namespace gp {

struct View {
  std::size_t columns = 80;
  Paint paint{false};
};

/// One day with all that is needed to write about it.
class DayText {
 public:
  DayText(const Production& production, const DayPlan& day, const View& view)
      : production_(production),
        day_(day),
        view_(view),
        clock_(production.days[day.day].date, production.zone) {}

  [[nodiscard]] std::string heading() const;
  [[nodiscard]] std::string scenes() const;
  [[nodiscard]] std::string calls() const;
  [[nodiscard]] std::string meals() const;
  /// Each station in use: a lane a place in characters, then who is in it when.
  [[nodiscard]] std::string stations() const;

 private:
  [[nodiscard]] std::string at(Minute moment) const;
  [[nodiscard]] std::string person(PersonId id) const;
  [[nodiscard]] std::string people(const std::vector<PersonId>& all, std::size_t indent) const;
  [[nodiscard]] std::string station(StationId id) const;
  [[nodiscard]] std::string lanes(StationId id) const;
  [[nodiscard]] std::string lane(StationId id, int place, Span shown, int minutes_a_cell) const;

  const Production& production_;
  const DayPlan& day_;
  const View& view_;
  CalendarDay clock_;
};

/// Every day, what could not be done, the notes and the cost.
std::string show_days(const Production& production, const Plan& plan, const View& view);

/// Three lines, however long: what is filmed when, what it costs, and what was written.
/// \param written  file names and other short phrases
std::string show_short(const Production& production,
                       const Plan& plan,
                       const std::vector<std::string>& written);

/// What could not be filmed or filled, and why; empty when nothing was lost.
std::string show_losses(const Production& production, const Plan& plan, const View& view);

/// On site and waiting, and how far the plan may be from the best.
std::string show_cost(const Production& production, const Plan& plan, const View& view);

/// "45 min", "2 h", "2 h 05 min"
std::string length_text(std::int64_t minutes);
/// "Saturday 17 April 2027"
std::string date_text(Date date);

}  // namespace gp
