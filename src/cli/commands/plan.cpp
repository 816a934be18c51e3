#include "base/sha256.h"
#include "cli/commands/commands.h"
#include "cli/interrupt.h"
#include "cli/planning.h"
#include "cli/show_absences.h"
#include "cli/show_plan.h"
#include "model/plan_json.h"
#include "search/planner.h"
#include "sheets/sheets.h"
#include "store/book.h"
#include "text/width.h"

#include <ctime>
#include <string>
#include <vector>

namespace gp {
namespace {

std::string in_folder(const std::string& folder, const std::string& name) {
  return folder.ends_with('/') ? folder + name : folder + "/" + name;
}

/// How many sheets were written.
std::size_t write_sheets(const Production& production,
                         const Plan& plan,
                         const Arguments& arguments,
                         Shell& shell) {
  SheetWishes wishes;
  wishes.templates_dir = shell.templates_dir;
  if (arguments.has("paper")) {
    wishes.paper = arguments.text("paper") == "Letter" ? Paper::letter : Paper::a4;
  }
  if (arguments.has("fonts")) wishes.font_dirs = {arguments.text("fonts")};
  const Sheets sheets = make_sheets(production, plan, wishes);
  for (const SheetFile& sheet : sheets.files) {
    shell.files.write(in_folder(arguments.text("out"), sheet.name), sheet.bytes);
  }
  if (!arguments.has("quiet")) {
    for (const std::string& warning : sheets.warnings) {
      shell.err << "warning: " << harmless(warning) << '\n';
    }
  }
  return sheets.files.size();
}

View view_of(const Arguments& arguments, const Shell& shell) {
  const std::string colour = arguments.text("colour");
  const bool colours =
      colour == "always" || (colour == "auto" && shell.out_is_terminal && !shell.no_colour);
  constexpr std::size_t kWidest = 120;  // longer lines are hard to read
  return {std::min(shell.columns, kWidest), Paint(colours)};
}

}  // namespace

ExitCode plan_days(const Arguments& arguments, Shell& shell) {
  const std::string& path = arguments.positional[0];
  if (arguments.has("json") && arguments.has("absences") && arguments.text("json") == "-" &&
      arguments.text("absences") == "-") {
    throw UsageError("--json and --absences cannot both go to standard output; give one a file");
  }
  const auto read = read_production_file(path, shell);
  if (!read) return ExitCode::faults;
  const Production& production = read->production;
  const Wishes wishes = wishes_of(arguments, production);
  // a folder that cannot be made is told before the search, not after it
  if (arguments.has("out")) shell.files.make_folder(arguments.text("out"));

  const Interrupt interrupt;
  const bool absences = arguments.has("expect-absences") || arguments.has("absences");
  absence::SturdyPlan sturdy;
  Plan plan;
  {
    ProgressLine line(shell, shell.err_is_terminal && !arguments.has("quiet"));
    Stop stop = stop_of(wishes);
    if (absences) {
      sturdy = absence::plan_for_absences(
          production, wishes, stop, line.sink(), arguments.decimal("more-hours") / 100);
      plan = sturdy.plan;
    } else {
      plan = make_plan(production, wishes, stop, line.sink());
    }
  }
  plan.made_from = "sha256:" + sha256(read->bytes);
  must_be_right(production, plan, wishes.answers);

  std::vector<std::string> written;
  const bool json_alone = (arguments.has("json") && arguments.text("json") == "-") ||
                          (arguments.has("absences") && arguments.text("absences") == "-");
  if (arguments.has("json")) {
    shell.files.write(arguments.text("json"), write_plan(production, plan));
    if (!json_alone) written.push_back(arguments.text("json"));
  }
  if (arguments.has("absences")) {
    shell.files.write(arguments.text("absences"), write_absences(production, sturdy));
    written.push_back(arguments.text("absences"));
  }
  if (read->revision > 0) {
    Book book(path);
    const std::int64_t number = book.keep_plan(
        {0, read->revision, sha256(read->bytes), std::time(nullptr), write_plan(production, plan)});
    if (!json_alone) written.push_back("plan " + std::to_string(number) + " in " + path);
  }
  if (arguments.has("out")) {
    const std::size_t sheets = write_sheets(production, plan, arguments, shell);
    written.push_back(counted(sheets, "sheet", "sheets") + " (PDF) in " + arguments.text("out"));
  }
  const View view = view_of(arguments, shell);
  const std::string show = json_alone ? "nothing" : arguments.text("show");
  if (show == "days") shell.out << show_days(production, plan, view);
  if (show == "days" && absences) shell.out << show_absences(production, sturdy, view);
  if (show == "short") shell.out << show_short(production, plan, written);

  if (interrupted(arguments, shell, "this is the best plan")) return ExitCode::interrupted;
  return plan.not_filmed.empty() && plan.unfilled.empty() ? ExitCode::right : ExitCode::not_all;
}

}  // namespace gp
