#pragma once

#include "base/fault.h"
#include "cli/arguments.h"
#include "cli/exit_code.h"
#include "cli/shell.h"
#include "model/check.h"
#include "model/production.h"

#include <optional>
#include <string>
#include <vector>

namespace gp {

/// \throws WorldError, UsageError, InternalError  see run()
ExitCode check_file(const Arguments& arguments, Shell& shell);
ExitCode plan_days(const Arguments& arguments, Shell& shell);
ExitCode judge_plan(const Arguments& arguments, Shell& shell);
ExitCode tell_why(const Arguments& arguments, Shell& shell);
ExitCode tell_what_if(const Arguments& arguments, Shell& shell);
ExitCode cast_people(const Arguments& arguments, Shell& shell);
ExitCode choose_dates(const Arguments& arguments, Shell& shell);
ExitCode ask_people(const Arguments& arguments, Shell& shell);
ExitCode open_book(const Arguments& arguments, Shell& shell);
ExitCode export_book(const Arguments& arguments, Shell& shell);
ExitCode show_history(const Arguments& arguments, Shell& shell);
ExitCode undo_change(const Arguments& arguments, Shell& shell);  ///< and redo
ExitCode change_book(const Arguments& arguments, Shell& shell);
ExitCode forget_in_book(const Arguments& arguments, Shell& shell);
ExitCode serve_pages(const Arguments& arguments, Shell& shell);
ExitCode set_passphrase(const Arguments& arguments, Shell& shell);
ExitCode set_door_code(const Arguments& arguments, Shell& shell);
ExitCode make_link(const Arguments& arguments, Shell& shell);
ExitCode import_lists(const Arguments& arguments, Shell& shell);

/// A production with the file it came from.
struct ReadProduction {
  Production production;
  std::string bytes;          ///< of the file; of a book, those `export` writes
  std::int64_t revision = 0;  ///< of the book; 0: it was a file
};
/// Reads a production file, or the production of a book; none: it has faults, and they were told on
/// standard error. \throws WorldError  it could not be read
std::optional<ReadProduction> read_production_file(const std::string& path, Shell& shell);

/// Every fault as people read it, and how many there are, on standard error.
void tell_faults(const std::vector<Fault>& faults,
                 const std::string& path,
                 const std::string& bytes,
                 Shell& shell);

/// Who counts as coming, from `--with`.
Answers answers_of(const Arguments& arguments);

/// "1 scene", "2 scenes".
std::string counted(std::size_t number, const std::string& one, const std::string& many);

}  // namespace gp
