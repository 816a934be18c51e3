#include "cli/commands/commands.h"
#include "cli/interrupt.h"
#include "cli/planning.h"
#include "cli/show_whatif.h"
#include "explain/whatif/what_if.h"

#include <algorithm>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace gp {
namespace {

/// \throws UsageError  one of them cannot be understood
std::vector<whatif::Change> changes_of(const Arguments& arguments, const Production& production) {
  std::vector<whatif::Change> changes;
  for (std::size_t i = 1; i < arguments.positional.size(); ++i) {
    const std::string& text = arguments.positional[i];
    auto read = whatif::read_change(production, text);
    if (const auto* mistake = std::get_if<whatif::Mistake>(&read)) {
      throw UsageError("the change \"" + text + "\": " + mistake->text() +
                       "; see: greasepaint help whatif");
    }
    changes.push_back(std::get<whatif::Change>(std::move(read)));
  }
  return changes;
}

/// \throws UsageError  no right production would be left
whatif::Changed changed_by(const Production& production,
                           const std::vector<whatif::Change>& changes) {
  auto applied = whatif::apply(production, changes);
  if (const auto* mistake = std::get_if<whatif::Mistake>(&applied)) {
    throw UsageError(mistake->text());
  }
  return std::get<whatif::Changed>(std::move(applied));
}

View view_of(const Shell& shell) {
  constexpr std::size_t kWidest = 100;
  return {std::min(shell.columns, kWidest), Paint(shell.out_is_terminal && !shell.no_colour)};
}

/// \param json  what stands in the file; \param text  what is shown unless that is standard output
void give(const Arguments& arguments,
          const std::string& json,
          const std::string& text,
          Shell& shell) {
  if (arguments.has("json")) shell.files.write(arguments.text("json"), json);
  if (!arguments.has("json") || arguments.text("json") != "-") shell.out << text;
}

ExitCode tell_comparison(const Arguments& arguments,
                         const Production& production,
                         const std::vector<whatif::Change>& changes,
                         const Wishes& wishes,
                         Shell& shell) {
  const whatif::Changed changed = changed_by(production, changes);
  const Interrupt interrupt;
  whatif::Comparison comparison;
  {
    ProgressLine line(shell, shell.err_is_terminal && !arguments.has("quiet"));
    Stop stop(std::nullopt, Interrupt::flag());
    comparison = whatif::compare(production, changed, wishes, stop, line.sink());
  }
  must_be_right(production, comparison.before, wishes.answers);
  must_be_right(changed.production, comparison.after.plan, wishes.answers);
  std::vector<std::string> words;
  words.reserve(changes.size());
  for (const whatif::Change& change : changes) words.push_back(describe(production, change));
  give(arguments,
       whatif::write_comparison(production, changes, comparison),
       show_comparison(production, words, comparison, view_of(shell)),
       shell);
  if (interrupted(arguments, shell, "these are the best plans")) return ExitCode::interrupted;
  const Plan& after = comparison.after.plan;
  return after.not_filmed.empty() && after.unfilled.empty() ? ExitCode::right : ExitCode::not_all;
}

ExitCode tell_best_help(const Arguments& arguments,
                        const Production& production,
                        const Wishes& wishes,
                        Shell& shell) {
  const Interrupt interrupt;
  whatif::HelpRanking ranking;
  {
    ProgressLine line(shell, shell.err_is_terminal && !arguments.has("quiet"));
    Stop stop(std::nullopt, Interrupt::flag());
    ranking = whatif::best_help(
        production, wishes, stop, [&](std::size_t made, std::size_t of, const std::string& best) {
          if (of == 0) return line.show("planning as it is");
          line.show("plans made: " + std::to_string(made) + " of " + std::to_string(of) +
                    (best.empty() ? "" : "; best so far: " + best));
        });
  }
  must_be_right(production, ranking.plan, wishes.answers);
  give(arguments,
       whatif::write_ranking(production, ranking),
       show_ranking(production, ranking, view_of(shell)),
       shell);
  return Interrupt::came() ? ExitCode::interrupted : ExitCode::right;
}

}  // namespace

ExitCode tell_what_if(const Arguments& arguments, Shell& shell) {
  if (arguments.positional.size() == 1 && !arguments.has("best-help")) {
    throw UsageError(
        "whatif needs a change such as \"chairs paint +1\", or --best-help; see: greasepaint help "
        "whatif");
  }
  const auto read = read_production_file(arguments.positional[0], shell);
  if (!read) return ExitCode::faults;
  const Production& production = read->production;
  const std::vector<whatif::Change> changes = changes_of(arguments, production);
  const Wishes wishes = wishes_of(arguments, production);
  if (!arguments.has("best-help")) {
    return tell_comparison(arguments, production, changes, wishes, shell);
  }
  if (changes.empty()) return tell_best_help(arguments, production, wishes, shell);
  return tell_best_help(arguments, changed_by(production, changes).production, wishes, shell);
}

}  // namespace gp
