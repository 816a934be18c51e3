#pragma once

#include "cli/arguments.h"
#include "cli/exit_code.h"
#include "cli/shell.h"
#include "intake/lists.h"
#include "model/production.h"
#include "store/book.h"

#include <cstddef>
#include <memory>
#include <optional>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

// What importing people and importing shots have in common; for import*.cpp.

namespace gp {

/// Where the imported go: a book, or a production file.
class ImportTarget {
 public:
  /// Opens it. None: it has faults, and they were told. \throws WorldError, UsageError
  static std::optional<ImportTarget> open(const Arguments& arguments, Shell& shell);

  [[nodiscard]] const Production& production() const { return production_; }
  /// Where everything is shown: not where the production is written to.
  [[nodiscard]] std::ostream& told(Shell& shell) const;
  /// Whether a file is asked for even where nothing comes in: a copy elsewhere.
  [[nodiscard]] bool wants_copy() const { return !out_.empty() && out_ != path_; }
  /// Whether it is said where the production goes; a book is its own place.
  [[nodiscard]] bool has_place() const { return book_ != nullptr || !out_.empty(); }
  /// Keeps the production. \param changed  indexes of people who were there and are changed
  /// \param why  for the book's history
  ExitCode keep(const Production& merged,
                const std::vector<PersonId>& changed,
                const std::string& why,
                Shell& shell);

 private:
  ExitCode keep_in_book(const Production& merged,
                        const std::vector<PersonId>& changed,
                        const std::string& why,
                        Shell& shell);
  ExitCode keep_in_file(const Production& merged, Shell& shell);

  std::string path_, out_;
  std::unique_ptr<Book> book_;
  std::shared_ptr<const BookState> state_;
  Production production_;
};

ListWishes list_wishes(const Arguments& arguments);
/// What --decide says: number and decision, as written. \throws UsageError
std::vector<std::pair<std::string, std::string>> decisions_of(const Arguments& arguments);

/// "people.csv: UTF-8, columns parted by commas".
void tell_form(const std::string& name, const ListForm& form, std::ostream& out);
/// The first of them, and how many more there are.
void tell_bad(const std::string& name, const std::vector<BadLine>& bad, std::ostream& out);
/// What is wrong with a list as a whole, on standard error.
void tell_list_faults(const std::string& name,
                      const std::vector<std::string>& faults,
                      Shell& shell);
/// Bad lines as what was left out, for the file of --left-out.
void add_bad(const std::string& name, const std::vector<BadLine>& bad, std::vector<LeftOut>& out);
/// Writes the file of --left-out, where that was asked for.
void write_left_out(const Arguments& arguments, const std::vector<LeftOut>& left_out, Shell& shell);

/// Whether to go on: --yes, or on a terminal the answer. Tells what to do where not.
bool confirmed(const Arguments& arguments, const ImportTarget& target, Shell& shell);

/// One file after the other; at most this many lines of one kind are shown.
inline constexpr std::size_t kMostShownLines = 40;

ExitCode import_people(const Arguments& arguments, Shell& shell);
ExitCode import_scenes(const Arguments& arguments, Shell& shell);

}  // namespace gp
