#include "cli/arguments.h"

#include "base/errors.h"
#include "base/nearest.h"
#include "cli/plain_number.h"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace gp {
namespace {

std::string meant(const std::string& nearest_name) {
  return nearest_name.empty() ? "" : "; did you mean " + nearest_name + "?";
}

/// \param page  what stands after `greasepaint help`, with a space before it
[[noreturn]] void refuse(const std::string& text, const std::string& page) {
  throw UsageError(text + (text.ends_with('?') ? " See: " : "; see: ") + "greasepaint help" + page);
}

[[noreturn]] void refuse(const CommandRecord& command, const std::string& text) {
  refuse(text, " " + command.name);
}

const CommandRecord& command_named(const std::string& name) {
  if (const CommandRecord* found = find_command(name)) return *found;
  std::vector<std::string> names;
  for (const CommandRecord& command : commands()) {
    if (!command.hidden) names.push_back(command.name);
  }
  refuse("there is no command " + name + meant(nearest(name, names)), "");
}

const OptionRecord& option_named(const CommandRecord& command, const std::string& name) {
  std::vector<std::string> names;
  for (const OptionRecord& option : command.options) {
    if (option.name == name) return option;
    names.push_back(option.name);
  }
  std::string hint = nearest(name, names);
  if (!hint.empty()) hint.insert(0, "--");
  refuse(command, command.name + " has no option --" + name + meant(hint));
}

std::optional<double> number(const std::string& text) {
  double value = 0;
  const char* end = text.data() + text.size();
  const auto [behind, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{} || behind != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::optional<std::uint64_t> whole_number(const std::string& text) {
  std::uint64_t value = 0;
  const char* end = text.data() + text.size();
  const auto [behind, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc{} || behind != end) return std::nullopt;
  return value;
}

std::vector<std::string> parts(const std::string& text) {
  std::vector<std::string> result(1);
  for (const char character : text) {
    if (character == ',') {
      result.emplace_back();
    } else {
      result.back() += character;
    }
  }
  return result;
}

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) text += i + 1 == names.size() ? " or " : ", ";
    text += names[i];
  }
  return text;
}

/// Case does not matter in a choice: `--paper a4`.
std::string lower(std::string text) {
  for (char& character : text) {
    if (character >= 'A' && character <= 'Z') character = static_cast<char>(character - 'A' + 'a');
  }
  return text;
}

std::string chosen(const CommandRecord& command,
                   const std::string& name,
                   const std::vector<std::string>& choices,
                   const std::string& value) {
  for (const std::string& choice : choices) {
    if (lower(choice) == lower(value)) return choice;
  }
  refuse(command,
         name + " takes " + listed(choices) + ", not \"" + value + "\"" +
             meant(nearest(value, choices)));
}

/// The value as the command will see it.
/// \throws UsageError  it does not fit the record
std::string fitting(const CommandRecord& command,
                    const OptionRecord& option,
                    const std::string& value) {
  const std::string name = "--" + option.name;
  switch (option.kind) {
    case OptionKind::flag:
      throw InternalError("a flag has a value");
    case OptionKind::text:
      if (value.empty()) refuse(command, name + " needs a value: " + option.value);
      return value;
    case OptionKind::whole:
    case OptionKind::decimal: {
      const bool is_whole = option.kind == OptionKind::whole;
      const std::optional<double> read =
          is_whole && !whole_number(value) ? std::nullopt : number(value);
      if (!read || *read < *option.least || *read > *option.most) {
        refuse(command,
               name + " takes a " + (is_whole ? "whole number" : "number") + " from " +
                   plain_number(*option.least) + " to " + plain_number(*option.most) + ", not \"" +
                   value + "\"" + (option.limits.empty() ? "" : ": " + option.limits));
      }
      return value;
    }
    case OptionKind::choice:
      return chosen(command, name, option.choices, value);
    case OptionKind::choices: {
      std::string all;
      for (const std::string& part : parts(value)) {
        all += (all.empty() ? "" : ",") + chosen(command, name, option.choices, part);
      }
      return all;
    }
  }
  throw InternalError("an option of no kind");
}

void add_option(Arguments& result, const std::string& word, std::vector<std::string>& rest) {
  const CommandRecord& command = *result.command;
  const auto equals = word.find('=');
  const std::string name = word.substr(2, equals == std::string::npos ? equals : equals - 2);
  const OptionRecord& option = option_named(command, name);
  if (result.has(option.name)) refuse(command, "--" + option.name + " is given twice");
  if (option.kind == OptionKind::flag) {
    if (equals != std::string::npos) refuse(command, "--" + option.name + " takes no value");
    result.options[option.name] = "";
    return;
  }
  std::string value;
  if (equals != std::string::npos) {
    value = word.substr(equals + 1);
  } else {
    if (rest.empty()) refuse(command, "--" + option.name + " needs a value: " + option.value);
    value = rest.back();
    rest.pop_back();
  }
  result.options[option.name] = fitting(command, option, value);
}

void check_positional(const Arguments& arguments) {
  const CommandRecord& command = *arguments.command;
  const std::size_t given = arguments.positional.size();
  for (std::size_t i = 0; i < command.arguments.size(); ++i) {
    const ArgumentRecord& record = command.arguments[i];
    if (i >= given) {
      if (record.needed) {
        refuse(command, command.name + " needs " + record.name + ": " + record.text);
      }
    } else if (!record.choices.empty() && !command.hidden && command.name == "help") {
      command_named(arguments.positional[i]);
    } else if (!record.choices.empty()) {
      chosen(command, record.name, record.choices, arguments.positional[i]);
    }
  }
  const bool many = !command.arguments.empty() && command.arguments.back().many;
  if (given > command.arguments.size() && !many) {
    refuse(command,
           command.name + " takes nothing more after " +
               (command.arguments.empty() ? "its name"
                                          : arguments.positional[command.arguments.size() - 1]) +
               ", but there is \"" + arguments.positional[command.arguments.size()] + "\"");
  }
}

}  // namespace

std::string Arguments::text(const std::string& option) const {
  if (const auto found = options.find(option); found != options.end()) return found->second;
  for (const OptionRecord& record : command->options) {
    if (record.name == option) return record.standard;
  }
  throw InternalError("the command " + command->name +
                      " asks for an option it does not have: " + option);
}

double Arguments::decimal(const std::string& option) const {
  return number(text(option)).value();
}

std::uint64_t Arguments::whole(const std::string& option) const {
  return whole_number(text(option)).value();
}

bool Arguments::among(const std::string& option, const std::string& part) const {
  const std::vector<std::string> all = parts(text(option));
  return std::find(all.begin(), all.end(), part) != all.end();
}

Arguments read_arguments(const std::vector<std::string>& words) {
  std::vector<std::string> rest(words.rbegin(), words.rend());  // the next word is the last
  Arguments result;
  if (rest.empty()) {
    result.command = find_command("help");
    return result;
  }
  const std::string first = rest.back();
  rest.pop_back();
  if (first == "--help" || first == "-h" || first == "--version") {
    result.command = find_command(first == "--version" ? "version" : "help");
  } else if (first.starts_with("-")) {
    refuse("a command comes first, before " + first, "");
  } else {
    result.command = &command_named(first);
  }
  bool options_end = false;
  while (!rest.empty()) {
    const std::string word = rest.back();
    rest.pop_back();
    if (options_end || word == "-" || !word.starts_with("-")) {
      result.positional.push_back(word);
    } else if (word == "--") {
      options_end = true;
    } else if (word == "-h") {
      result.options["help"] = "";
    } else if (!word.starts_with("--")) {
      refuse(*result.command, "options begin with two dashes, not " + word);
    } else {
      add_option(result, word, rest);
    }
  }
  if (!result.has("help")) check_positional(result);
  return result;
}

}  // namespace gp
