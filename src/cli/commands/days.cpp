#include "cli/commands/commands.h"
#include "cli/flow.h"
#include "cli/interrupt.h"
#include "cli/planning.h"
#include "explain/days/choose_days.h"

#include <string>

namespace gp {
ExitCode choose_dates(const Arguments& arguments, Shell& shell) {
  const auto read = read_production_file(arguments.positional[0], shell);
  if (!read) return ExitCode::faults;
  const Production& production = read->production;
  DaysWishes wishes;
  wishes.planning.answers = answers_of(arguments);
  wishes.planning.seed = arguments.whole("seed");
  wishes.planning.effort = arguments.decimal("effort");
  wishes.most_days = static_cast<std::size_t>(arguments.whole("most-days"));

  const Interrupt interrupt;
  DaysChosen chosen;
  {
    ProgressLine line(shell, shell.err_is_terminal && !arguments.has("quiet"));
    Stop stop(std::nullopt, Interrupt::flag());
    chosen = choose_days(production, wishes, stop, [&](std::size_t made, std::size_t of) {
      line.show("plans made: " + std::to_string(made) + " of at most " + std::to_string(of));
    });
  }
  for (const DaysChoice& choice : chosen.choices) {
    must_be_right(production, choice.plan, wishes.planning.answers);
  }
  const bool json_alone = arguments.has("json") && arguments.text("json") == "-";
  if (arguments.has("json"))
    shell.files.write(arguments.text("json"), write_days(production, chosen));
  if (!json_alone) shell.out << harmless_lines(days_as_text(production, chosen));
  if (interrupted(arguments, shell, "these are the best choices")) return ExitCode::interrupted;
  const bool all = !chosen.choices.empty() && chosen.choices[0].plan.not_filmed.empty() &&
                   chosen.choices[0].plan.unfilled.empty();
  return all || production.scenes.empty() ? ExitCode::right : ExitCode::not_all;
}

}  // namespace gp
