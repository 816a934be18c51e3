#pragma once

#include "cli/arguments.h"
#include "cli/shell.h"
#include "model/plan.h"
#include "search/planner.h"

#include <optional>
#include <string>

// What every command that plans needs: its options, its stop, its progress, and the last look at
// the plan.

namespace gp {

/// The day that --day names; none: the option was not given.
/// \throws UsageError  the production has no such day
std::optional<DayId> chosen_day(const Arguments& arguments, const Production& production);

/// From --seed, --seconds, --threads, --with and --day.
/// \throws UsageError  the production has no such day
Wishes wishes_of(const Arguments& arguments, const Production& production);

/// Stops at Ctrl-C, and after `wishes.seconds` where they are given. An Interrupt must be alive.
Stop stop_of(const Wishes& wishes);

/// Whether Ctrl-C came; then says so, and what was given all the same ("this is the best plan"),
/// but for --quiet.
bool interrupted(const Arguments& arguments, Shell& shell, const std::string& given);

/// One line on a terminal that says how far the work is, gone when it ends.
class ProgressLine {
 public:
  ProgressLine(Shell& shell, bool wanted) : shell_(shell), wanted_(wanted) {}
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  ~ProgressLine();
  [[nodiscard]] ProgressSink sink();
  void show(const std::string& text);

 private:
  Shell& shell_;
  bool wanted_;
  bool shown_ = false;
};

/// \throws InternalError  the plan breaks a rule or its totals are not its own: nobody may see it
void must_be_right(const Production& production, const Plan& plan, Answers answers);

}  // namespace gp
