#pragma once

#include "cli/options.h"

#include <cstdint>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

namespace gp {

/// The command line is wrong. The text says how, and where help is.
class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// A command line that was read and found right: every value fits its record.
class Arguments {
 public:
  const CommandRecord* command = nullptr;
  std::vector<std::string> positional;
  std::map<std::string, std::string> options;  ///< by name; a flag has an empty value

  [[nodiscard]] bool has(const std::string& option) const { return options.contains(option); }
  /// The value given, else the record's standard (empty where it has none).
  [[nodiscard]] std::string text(const std::string& option) const;
  [[nodiscard]] double decimal(const std::string& option) const;
  [[nodiscard]] std::uint64_t whole(const std::string& option) const;
  /// Whether `part` is among the comma-separated values given.
  [[nodiscard]] bool among(const std::string& option, const std::string& part) const;
};

/// Reads a command line (without the program's own name): the command first, then its arguments and
/// options in any order, `--name value` or `--name=value`; `--` ends the options; `-` is an
/// argument.
/// `--help`, `-h`, `--version` and no command at all are read as the commands of that name.
/// \throws UsageError  with the nearest command or option there is
Arguments read_arguments(const std::vector<std::string>& words);

}  // namespace gp
