#include "cli/options.h"

#include "cli/option_records.h"
#include "search/planner.h"

namespace gp {

OptionRecord help_option() {
  OptionRecord option;
  option.name = "help";
  option.text = "Show what the command does and its options.";
  return option;
}

OptionRecord flag_option(const std::string& name, const std::string& text) {
  OptionRecord option;
  option.name = name;
  option.text = text;
  return option;
}

OptionRecord text_option(const std::string& name,
                         const std::string& value,
                         const std::string& text) {
  OptionRecord option = flag_option(name, text);
  option.kind = OptionKind::text;
  option.value = value;
  return option;
}

OptionRecord file_option(const std::string& name,
                         const std::string& value,
                         const std::string& text) {
  OptionRecord option = text_option(name, value, text);
  option.files = true;
  return option;
}

OptionRecord choice_option(const std::string& name,
                           const std::string& value,
                           const std::vector<std::string>& choices,
                           const std::string& standard,
                           const std::string& text) {
  OptionRecord option = text_option(name, value, text);
  option.kind = OptionKind::choice;
  option.choices = choices;
  option.standard = standard;
  return option;
}

OptionRecord number_option(const std::string& name,
                           OptionKind kind,
                           double least,
                           double most,
                           const std::string& standard,
                           const std::string& text) {
  OptionRecord option = text_option(name, "N", text);
  option.kind = kind;
  option.least = least;
  option.most = most;
  option.standard = standard;
  return option;
}

OptionRecord with_option() {
  OptionRecord option;
  option.name = "with";
  option.kind = OptionKind::choices;
  option.value = "ANSWERS";
  option.text =
      "Count these answers as coming besides \"yes\": maybe, asked, or both with a comma.";
  option.choices = {"maybe", "asked"};
  return option;
}

std::vector<OptionRecord> planning_options() {
  return {
      number_option("seconds",
                    OptionKind::decimal,
                    0,
                    86'400,
                    "0",
                    "Search for so many seconds; 0 does a fixed amount of work instead."),
      number_option("seed",
                    OptionKind::whole,
                    0,
                    9'007'199'254'740'991,
                    "1",
                    "Where the search draws its chances from: another seed, perhaps another plan."),
      number_option("threads",
                    OptionKind::whole,
                    1,
                    64,
                    std::to_string(kUsualThreads),
                    "Search with so many threads; part of the answer, as the seed is."),
      with_option(),
      OptionRecord{"day",
                   OptionKind::text,
                   "DATE",
                   "Plan this day alone (2027-04-17); scenes that do not fit on it are left out.",
                   {},
                   {},
                   "",
                   {},
                   false}};
}

namespace {

ArgumentRecord production_argument() {
  return {"FILE", "the production file or book; - reads standard input", true, {}};
}

CommandRecord check_command() {
  CommandRecord command;
  command.name = "check";
  command.summary = "list every fault of a production file";
  command.text =
      "Reads a production file whole and lists every fault with its line and column, the path of "
      "the value, what was found, what is expected, the nearest valid name, and the line itself.";
  command.arguments = {production_argument()};
  command.options = {help_option()};
  return command;
}

CommandRecord plan_command() {
  CommandRecord command;
  command.name = "plan";
  command.summary = "plan the days and print their sheets";
  command.text =
      "Plans who plays and helps where, in which order the scenes are filmed, who sits at which "
      "station when, and when each person must come; shows the days, and writes the plan and the "
      "sheets where it is told to. What cannot be done is left out and said, with the reason.\n"
      "The same file, seed and threads give the same plan, byte for byte but for the seconds "
      "spent, unless --seconds limits the time.\n"
      "Ctrl-C ends the search and gives the best plan found so far; a second Ctrl-C ends at once.";
  command.arguments = {production_argument()};
  command.options = {
      file_option("json",
                  "FILE",
                  "Write the plan as JSON; - writes it to standard output and "
                  "shows nothing else there."),
      file_option(
          "out", "DIR", "Print the sheets as PDF files into this folder, made if missing.")};
  const std::vector<OptionRecord> planning = planning_options();
  command.options.insert(command.options.end(), planning.begin(), planning.end());
  const std::vector<OptionRecord> shown = {
      flag_option("expect-absences",
                  "Make a plan that is likelier to film every scene when people stay away, and "
                  "name stand-ins; takes up to five times as long."),
      number_option("more-hours",
                    OptionKind::decimal,
                    0,
                    1'000,
                    "25",
                    "With --expect-absences: at most so many per cent more time on site than the "
                    "plan without it."),
      file_option("absences",
                  "FILE",
                  "Write the stand-ins and chances as JSON; goes with --expect-absences, and does "
                  "the same."),
      choice_option("paper",
                    "PAPER",
                    {"A4", "Letter"},
                    "",
                    "Print on this paper instead of the production's."),
      file_option("fonts",
                  "DIR",
                  "Look for fonts in this folder and below it instead of where Debian has them."),
      choice_option("show",
                    "WHAT",
                    {"days", "short", "nothing"},
                    "days",
                    "Show the days as tables, three lines about them, or nothing."),
      choice_option("colour",
                    "WHEN",
                    {"auto", "never", "always"},
                    "auto",
                    "Colours: auto uses them on a terminal unless NO_COLOR is set."),
      OptionRecord{"quiet",
                   OptionKind::flag,
                   "",
                   "No progress and no warnings on standard error.",
                   {},
                   {},
                   "",
                   {},
                   false},
      help_option()};
  command.options.insert(command.options.end(), shown.begin(), shown.end());
  return command;
}

CommandRecord judge_command() {
  CommandRecord command;
  command.name = "judge";
  command.summary = "say which rules a plan breaks, and what it costs";
  command.text =
      "Reads a production and a plan of it, made by anybody, and prints every broken rule as "
      "`rule N: where: what`, then what the plan costs. The rules stand in docs/plan-format.md.";
  command.arguments = {production_argument(),
                       {"PLAN", "the plan as JSON; - reads standard input", true, {}}};
  command.options = {with_option(), help_option()};
  return command;
}

CommandRecord help_command() {
  CommandRecord command;
  command.name = "help";
  command.summary = "show what a command does and its options";
  command.text = "Shows the commands, or all about one of them.";
  command.arguments = {
      {"COMMAND", "the command", false, {"check",  "plan",    "judge",      "why",       "whatif",
                                         "ask",    "cast",    "days",       "open",      "export",
                                         "import", "history", "undo",       "redo",      "change",
                                         "forget", "serve",   "passphrase", "door-code", "link",
                                         "version"}}};
  command.options = {help_option()};
  return command;
}

CommandRecord version_command() {
  CommandRecord command;
  command.name = "version";
  command.summary = "show which version this is";
  command.text = "Shows the version of the program.";
  command.options = {help_option()};
  return command;
}

CommandRecord hidden_command(const std::string& name,
                             const std::string& summary,
                             const std::vector<ArgumentRecord>& arguments) {
  CommandRecord command;
  command.name = name;
  command.summary = summary;
  command.arguments = arguments;
  command.hidden = true;
  return command;
}

}  // namespace

namespace {

std::vector<CommandRecord> make_commands() {
  std::vector<CommandRecord> all = {check_command(),
                                    plan_command(),
                                    judge_command(),
                                    why_command(),
                                    whatif_command(),
                                    ask_command(),
                                    cast_command(),
                                    days_command()};
  const std::vector<CommandRecord> books = book_commands();
  all.insert(all.end(), books.begin(), books.end());
  const std::vector<CommandRecord> imports = import_commands();
  all.insert(all.end(), imports.begin(), imports.end());
  const std::vector<CommandRecord> pages = page_commands();
  all.insert(all.end(), pages.begin(), pages.end());
  const std::vector<CommandRecord> others = {
      help_command(),
      version_command(),
      hidden_command("man-page", "write the man page", {}),
      hidden_command("completion",
                     "write the completion for a shell",
                     {{"SHELL", "the shell", true, {"bash", "zsh", "fish"}}}),
      hidden_command("option-names", "list every command with each of its options", {})};
  all.insert(all.end(), others.begin(), others.end());
  return all;
}

}  // namespace

const std::vector<CommandRecord>& commands() {
  static const std::vector<CommandRecord> all = make_commands();
  return all;
}

const CommandRecord* find_command(const std::string& name) {
  for (const CommandRecord& command : commands()) {
    if (command.name == name) return &command;
  }
  return nullptr;
}

const std::vector<ExitRecord>& exit_records() {
  static const std::vector<ExitRecord> all = {
      {0, "all that was asked for is there: the file is right, the plan right and full"},
      {1, "a mistake of the program; please report it"},
      {2, "a file has faults, or the plan judged breaks a rule"},
      {3,
       "the plan is right, but something could not be filmed or filled; it says what and why. Or "
       "an "
       "import had rows that could not be used, or people who wait for a decision"},
      {4, "the world said no: a disk, a folder, a font; one line says what to do"},
      {64, "the command line is wrong"},
      {130, "interrupted; the best plan so far was given"}};
  return all;
}

}  // namespace gp
