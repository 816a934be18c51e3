#include "base/sha256.h"
#include "cli/commands/commands.h"
#include "cli/flow.h"
#include "cli/interrupt.h"
#include "cli/planning.h"
#include "explain/cast/cast_film.h"
#include "model/read_production.h"

#include <string>

namespace gp {
ExitCode cast_people(const Arguments& arguments, Shell& shell) {
  const auto read = read_production_file(arguments.positional[0], shell);
  if (!read) return ExitCode::faults;
  const Production& production = read->production;
  CastWishes wishes;
  wishes.answers = answers_of(arguments);
  wishes.only_day = chosen_day(arguments, production);
  wishes.effort.seed = arguments.whole("seed");
  wishes.effort.effort = arguments.decimal("effort");

  const Interrupt interrupt;
  FilmCasting casting;
  {
    ProgressLine line(shell, shell.err_is_terminal && !arguments.has("quiet"));
    Stop stop(std::nullopt, Interrupt::flag());
    int shown = -1;
    casting = cast_film(production, wishes, stop, [&](double share, std::int64_t /*cost*/) {
      const int percent = static_cast<int>(share * 100.0);
      if (percent == shown) return;
      shown = percent;
      line.show("casting: " + std::to_string(percent) + " %");
    });
  }
  const bool json_alone = arguments.has("json") && arguments.text("json") == "-";
  if (arguments.has("json")) {
    shell.files.write(arguments.text("json"), write_casting(production, casting));
  }
  if (arguments.has("keep")) {
    shell.files.write(arguments.text("keep"),
                      write_production(with_parts_kept(production, casting)));
  }
  if (!json_alone) shell.out << harmless_lines(casting_as_text(production, casting));
  if (interrupted(arguments, shell, "this is the best casting")) return ExitCode::interrupted;
  return casting.empty.empty() && casting.collisions.empty() ? ExitCode::right : ExitCode::not_all;
}

}  // namespace gp
