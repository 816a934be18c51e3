#include "base/json.h"
#include "cli/commands/commands.h"
#include "model/read_production.h"
#include "store/book.h"

#include <utility>

namespace gp {

std::string counted(std::size_t number, const std::string& one, const std::string& many) {
  return std::to_string(number) + " " + (number == 1 ? one : many);
}

void tell_faults(const std::vector<Fault>& faults,
                 const std::string& path,
                 const std::string& bytes,
                 Shell& shell) {
  for (const Fault& fault : faults) shell.err << render(fault, input_name(path), bytes);
  shell.err << counted(faults.size(), "fault", "faults") << " in " << input_name(path) << '\n';
}

Answers answers_of(const Arguments& arguments) {
  return {arguments.among("with", "maybe"), arguments.among("with", "asked")};
}

std::optional<ReadProduction> read_production_file(const std::string& path, Shell& shell) {
  std::string bytes = shell.files.read(path, kMostJsonBytes);
  if (path != "-" && Book::looks_like_book(bytes)) {
    Book book(path);
    const auto state = book.state();
    return ReadProduction{
        *state->production, state->production_document->dump(2) + "\n", state->revision};
  }
  auto read = read_production(bytes);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    tell_faults(*faults, path, bytes, shell);
    return std::nullopt;
  }
  return ReadProduction{std::get<Production>(std::move(read)), std::move(bytes), 0};
}

ExitCode check_file(const Arguments& arguments, Shell& shell) {
  const std::string& path = arguments.positional[0];
  const auto read = read_production_file(path, shell);
  if (!read) return ExitCode::faults;
  const Production& production = read->production;
  shell.out << input_name(path) << ": no faults; "
            << counted(production.people.size(), "person", "people") << ", "
            << counted(production.scenes.size(), "scene", "scenes") << ", "
            << counted(production.days.size(), "day", "days") << '\n';
  return ExitCode::right;
}

}  // namespace gp
