#pragma once

#include <optional>
#include <string>
#include <vector>

namespace gp {

enum class OptionKind { flag, text, whole, decimal, choice, choices };

/// All there is to know of one option: the reader of the command line, --help, the man page, the
/// completion and the check of docs/commands.md are all made from it.
struct OptionRecord {
  std::string name;  ///< without the dashes
  OptionKind kind = OptionKind::flag;
  std::string value;                  ///< how the value is called: FILE; empty for a flag
  std::string text;                   ///< one sentence or two
  std::optional<double> least, most;  ///< of a number, both included
  std::string standard;               ///< what is taken when it is not given; empty: nothing
  std::vector<std::string> choices;   ///< of `choice`, and of each part of `choices`
  bool files = false;                 ///< the value is a path, for the completion
  std::string limits = {};            ///< why no more or less, and what to do; empty: not said
};

struct ArgumentRecord {
  std::string name;
  std::string text;
  bool needed = true;
  std::vector<std::string> choices;  ///< empty: a path
  bool many = false;                 ///< the last one alone: may be given several times
};

struct CommandRecord {
  std::string name;
  std::string summary;  ///< half a line, for the list
  std::string text;     ///< paragraphs, one string a paragraph joined by newlines
  std::vector<ArgumentRecord> arguments;
  std::vector<OptionRecord> options;
  bool hidden = false;  ///< for the build, not for people
};

/// Every command, in the order of the help.
const std::vector<CommandRecord>& commands();
/// The command of that name; null where there is none.
const CommandRecord* find_command(const std::string& name);

/// One row a way to end, for the man page: the number and what it means.
struct ExitRecord {
  int code = 0;
  std::string text;
};
const std::vector<ExitRecord>& exit_records();

}  // namespace gp
