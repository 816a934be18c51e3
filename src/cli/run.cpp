#include "cli/run.h"

#include "base/errors.h"
#include "cli/arguments.h"
#include "cli/commands/commands.h"
#include "cli/help.h"
#include "text/width.h"

#include <exception>
#include <new>

namespace gp {
namespace {

ExitCode run_command(const Arguments& arguments, Shell& shell) {
  const CommandRecord& command = *arguments.command;
  if (arguments.has("help")) {
    shell.out << help_of(command);
    return ExitCode::right;
  }
  if (command.name == "check") return check_file(arguments, shell);
  if (command.name == "plan") return plan_days(arguments, shell);
  if (command.name == "judge") return judge_plan(arguments, shell);
  if (command.name == "why") return tell_why(arguments, shell);
  if (command.name == "whatif") return tell_what_if(arguments, shell);
  if (command.name == "ask") return ask_people(arguments, shell);
  if (command.name == "cast") return cast_people(arguments, shell);
  if (command.name == "days") return choose_dates(arguments, shell);
  if (command.name == "open") return open_book(arguments, shell);
  if (command.name == "export") return export_book(arguments, shell);
  if (command.name == "import") return import_lists(arguments, shell);
  if (command.name == "history") return show_history(arguments, shell);
  if (command.name == "undo" || command.name == "redo") return undo_change(arguments, shell);
  if (command.name == "change") return change_book(arguments, shell);
  if (command.name == "forget") return forget_in_book(arguments, shell);
  if (command.name == "serve") return serve_pages(arguments, shell);
  if (command.name == "passphrase") return set_passphrase(arguments, shell);
  if (command.name == "door-code") return set_door_code(arguments, shell);
  if (command.name == "link") return make_link(arguments, shell);
  if (command.name == "help") {
    shell.out << (arguments.positional.empty() ? overview()
                                               : help_of(*find_command(arguments.positional[0])));
  } else if (command.name == "version") {
    shell.out << version_line() << '\n';
  } else if (command.name == "man-page") {
    shell.out << man_page();
  } else if (command.name == "completion") {
    shell.out << completion(arguments.positional[0]);
  } else if (command.name == "option-names") {
    shell.out << option_names();
  } else {
    throw InternalError("the command " + command.name + " is listed but does nothing");
  }
  return ExitCode::right;
}

ExitCode report_us(const std::string& what, const std::vector<std::string>& words, Shell& shell) {
  shell.err << "greasepaint: a mistake of the program, not yours: " << harmless(what)
            << "\nPlease report it with this line and, if you may share it, the file:\n  "
            << version_line() << ":";
  for (const std::string& word : words) shell.err << ' ' << harmless(word);
  shell.err << '\n';
  return ExitCode::our_mistake;
}

}  // namespace

ExitCode run(const std::vector<std::string>& words, Shell& shell) {
  try {
    const ExitCode code = run_command(read_arguments(words), shell);
    if (!shell.out.flush()) {
      throw WorldError(
          "cannot write standard output; make room or choose another place: the disk "
          "is full or the reader is gone");
    }
    return code;
  } catch (const UsageError& error) {
    shell.err << "greasepaint: " << harmless(error.what()) << '\n';
    return ExitCode::usage;
  } catch (const WorldError& error) {
    shell.err << "greasepaint: " << harmless(error.what()) << '\n';
    return ExitCode::world;
  } catch (const std::bad_alloc&) {
    shell.err << "greasepaint: not enough memory; close other programs and try again\n";
    return ExitCode::world;
  } catch (const std::exception& error) {
    return report_us(error.what(), words, shell);
  }
}

}  // namespace gp
