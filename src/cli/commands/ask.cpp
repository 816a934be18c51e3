#include "casting/asking.h"
#include "casting/turnout.h"
#include "cli/commands/commands.h"
#include "cli/show_asking.h"

#include <algorithm>
#include <string>
#include <vector>

namespace gp {
namespace {

std::vector<double> wishes_for(const Arguments& arguments) {
  if (arguments.has("sure")) return {arguments.decimal("sure") / 100};
  return {kHowSure.begin(), kHowSure.end()};
}

double chance_with(int asked, double each, int wanted) {
  return chance_of_enough(std::vector<Party>(static_cast<std::size_t>(asked), Party{1, each}),
                          wanted);
}

/// How many to ask where all that is known is how many must come.
ExitCode ask_for_number(const Arguments& arguments, Shell& shell) {
  const int wanted = static_cast<int>(arguments.whole("need"));
  const double each = arguments.decimal("turnout");
  ExitCode code = ExitCode::right;
  for (const double sure : wishes_for(arguments)) {
    const auto asked = how_many_to_ask(wanted, each, sure);
    if (!asked) {
      shell.out << wish_text(sure) << " sure: cannot be; "
                << (each <= 0
                        ? "nobody comes at a turnout of 0; give the chance that somebody asked "
                          "comes (--turnout)"
                        : "5000 asked are not enough; need fewer (--need), or ask people "
                          "likelier to come (--turnout)")
                << '\n';
      code = ExitCode::not_all;
      continue;
    }
    shell.out << wish_text(sure) << " sure: ask " << *asked << "; that " << wanted
              << (wanted == 1 ? " or more comes is " : " or more come is ")
              << chance_text(chance_with(*asked, each, wanted));
    if (*asked > wanted) {
      shell.out << ", with " << *asked - 1 << " "
                << chance_text(chance_with(*asked - 1, each, wanted));
    }
    shell.out << '\n';
  }
  return code;
}

}  // namespace

ExitCode ask_people(const Arguments& arguments, Shell& shell) {
  if (arguments.positional.empty()) {
    if (!arguments.has("need")) {
      throw UsageError(
          "ask needs a production file, or --need with how many must come; see: greasepaint help "
          "ask");
    }
    if (arguments.has("json")) {
      throw UsageError("--json writes what is asked of a production file; give one, or leave it");
    }
    return ask_for_number(arguments, shell);
  }
  if (arguments.has("need")) {
    throw UsageError(
        "--need is for use without a file; with one, the scenes say how many are needed");
  }
  const auto read = read_production_file(arguments.positional[0], shell);
  if (!read) return ExitCode::faults;
  const Asking asking =
      how_to_ask(read->production, wishes_for(arguments), arguments.decimal("turnout"));
  if (arguments.has("json")) {
    shell.files.write(arguments.text("json"), write_asking(read->production, asking));
    if (arguments.text("json") == "-") return ExitCode::right;
  }
  constexpr std::size_t kWidest = 100;
  const View view{std::min(shell.columns, kWidest),
                  Paint(shell.out_is_terminal && !shell.no_colour)};
  shell.out << show_asking(read->production, asking, view);
  return ExitCode::right;
}

}  // namespace gp
