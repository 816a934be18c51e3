#include "explain/why/why.h"

#include "base/json.h"
#include "cli/commands/commands.h"
#include "cli/flow.h"
#include "cli/interrupt.h"
#include "cli/planning.h"
#include "cli/show_why.h"
#include "explain/conflict/conflicts.h"
#include "explain/why/reliefs.h"
#include "explain/why/why_json.h"
#include "explain/why/why_target.h"
#include "model/plan_json.h"
#include "text/width.h"

#include <algorithm>
#include <sstream>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace gp {
namespace {

/// The plan given, or a new one; none: the plan given has faults or is not right, and that was
/// told.
std::optional<Plan> plan_to_explain(const Arguments& arguments,
                                    const Production& production,
                                    const Wishes& wishes,
                                    ProgressLine& line,
                                    Shell& shell) {
  if (!arguments.has("plan")) {
    Stop stop = stop_of(wishes);
    Plan plan = make_plan(production, wishes, stop, line.sink());
    must_be_right(production, plan, wishes.answers);
    return plan;
  }
  const std::string path = arguments.text("plan");
  const std::string bytes = shell.files.read(path, kMostJsonBytes);
  auto read = read_plan(bytes, production);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    tell_faults(*faults, path, bytes, shell);
    return std::nullopt;
  }
  Plan plan = std::get<Plan>(std::move(read));
  const std::vector<Broken> broken = check(production, plan, wishes.answers);
  if (broken.empty()) return plan;
  shell.err << input_name(path) << " is not a right plan of this production, so its reasons would "
            << "be wrong: rule " << broken.front().rule << ": " << harmless(broken.front().where)
            << ": " << harmless(broken.front().what) << "\nsee them all with: greasepaint judge\n";
  return std::nullopt;
}

void add_reliefs(const Production& production,
                 const Plan& plan,
                 const Wishes& asked,
                 ProgressLine& line,
                 WhyPerson& why) {
  Wishes wishes = asked;
  wishes.seconds.reset();  // the same work for each change, so that they can be compared
  Stop stop(std::nullopt, Interrupt::flag());
  for (WhyCall& call : why.calls) {
    call.reliefs = find_reliefs(production, plan, call, wishes, stop, [&](int tried, int of) {
      line.show("trying small changes: " + std::to_string(tried) + " of " + std::to_string(of));
    });
  }
}

View view_of_sentences(const Shell& shell) {
  constexpr std::size_t kWidest = 100;  // sentences: longer lines are hard to read
  return {std::min(shell.columns, kWidest), Paint(shell.out_is_terminal && !shell.no_colour)};
}

/// Writes the JSON where it is asked for. \return whether it is all that was asked for
bool give_json(const Arguments& arguments, const std::string& json, Shell& shell) {
  if (arguments.has("json")) shell.files.write(arguments.text("json"), json);
  return arguments.has("json") && arguments.text("json") == "-";
}

template <class Why>
void give(const Arguments& arguments, const Production& production, const Why& why, Shell& shell) {
  if (give_json(arguments, write_why(production, why), shell)) return;
  shell.out << show_why(production, why, view_of_sentences(shell));
}

/// A scene with what stands in the way of what is left out of it.
void give_scene(const Arguments& arguments,
                const Production& production,
                const WhyScene& why,
                const Conflicts& conflicts,
                Shell& shell) {
  if (give_json(arguments, write_why(production, why, conflicts), shell)) return;
  const View view = view_of_sentences(shell);
  shell.out << show_why(production, why, view);
  if (conflicts.all.empty()) return;
  shell.out << '\n';
  std::istringstream lines(conflicts_as_text(conflicts));
  for (std::string line; std::getline(lines, line);) {
    constexpr std::size_t kItem = 4;  // "  - "
    const bool item = line.starts_with("  - ");
    shell.out << (item ? "  - " + flow_text(harmless(line.substr(kItem)), kItem, view.columns)
                       : flow_text(harmless(line), 0, view.columns))
              << '\n';
  }
}

}  // namespace

ExitCode tell_why(const Arguments& arguments, Shell& shell) {
  const std::string& path = arguments.positional[0];
  if (path == "-" && arguments.has("plan") && arguments.text("plan") == "-") {
    throw UsageError("FILE and --plan cannot both be standard input; see: greasepaint help why");
  }
  const auto read = read_production_file(path, shell);
  if (!read) return ExitCode::faults;
  const Production& production = read->production;
  const auto found = find_why_target(production, arguments.positional[1]);
  if (const auto* mistake = std::get_if<std::string>(&found)) throw UsageError(*mistake);
  const Wishes wishes = wishes_of(arguments, production);

  const Interrupt interrupt;
  std::optional<WhyPerson> person;
  std::optional<Plan> plan;
  const WhyTarget& target = std::get<WhyTarget>(found);
  {
    ProgressLine line(shell, shell.err_is_terminal && !arguments.has("quiet"));
    plan = plan_to_explain(arguments, production, wishes, line, shell);
    if (!plan) return ExitCode::faults;
    if (const auto* id = std::get_if<PersonId>(&target)) {
      person = why_person(production, *plan, wishes.answers, *id);
      if (!arguments.has("reasons-only")) add_reliefs(production, *plan, wishes, line, *person);
    }
  }
  bool there = true;
  if (person) {
    give(arguments, production, *person, shell);
    there = !person->calls.empty();
  } else if (const auto* scene = std::get_if<SceneId>(&target)) {
    const WhyScene why = why_scene(production, *plan, wishes.answers, *scene);
    Conflicts conflicts;
    if (!arguments.has("reasons-only")) {
      Stop stop(std::nullopt, Interrupt::flag());
      conflicts = conflicts_of_scene(production, wishes, *plan, *scene, stop);
    }
    give_scene(arguments, production, why, conflicts, shell);
    there = why.day.valid();
  } else {
    const StationId station = std::get<StationId>(target);
    give(arguments, production, why_station(production, *plan, wishes.answers, station), shell);
  }
  if (Interrupt::came()) return ExitCode::interrupted;
  return there ? ExitCode::right : ExitCode::not_all;
}

}  // namespace gp
