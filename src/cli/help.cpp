#include "cli/help.h"

#include "cli/flow.h"
#include "cli/plain_number.h"
#include "text/width.h"

#include <algorithm>
#include <sstream>

namespace gp {
namespace {

constexpr std::size_t kWidth = 80;

std::string usage_of(const CommandRecord& command) {
  std::string line = "greasepaint " + command.name;
  for (const ArgumentRecord& argument : command.arguments) {
    line += argument.needed ? " " + argument.name : " [" + argument.name + "]";
    if (argument.many) line += " ...";
  }
  if (command.options.size() > 1) line += " [options]";
  return line;
}

std::string paragraphs(const std::string& text) {
  std::istringstream in(text);
  std::string result;
  for (std::string paragraph; std::getline(in, paragraph);) {
    result += flow_text(paragraph, 0, kWidth) + "\n\n";
  }
  return result;
}

/// Terms on the left, what they mean on the right.
std::string definitions(const std::vector<std::pair<std::string, std::string>>& rows) {
  std::size_t widest = 0;
  for (const auto& row : rows) widest = std::max(widest, cells(row.first));
  const std::size_t indent = widest + 4;
  std::string text;
  for (const auto& [term, meaning] : rows) {
    text += "  " + padded(term, widest + 2) + flow_text(meaning, indent, kWidth) + "\n";
  }
  return text;
}

}  // namespace

std::string range_of(const OptionRecord& option) {
  std::string text;
  const auto add = [&text](const std::string& part) { text += (text.empty() ? "" : "; ") + part; };
  // a range up to 2^53 says no more than "a whole number"
  if (option.least && option.most && *option.most < 1e9) {
    add(plain_number(*option.least) + " to " + plain_number(*option.most));
  }
  if (option.kind == OptionKind::choice) {
    std::string names;
    for (const std::string& choice : option.choices) names += (names.empty() ? "" : ", ") + choice;
    add(names);
  }
  if (!option.standard.empty()) add("not given: " + option.standard);
  return text.empty() ? "" : " (" + text + ")";
}

std::string version_line() {
  return "greasepaint " GP_VERSION;
}

std::string overview() {
  std::string text =
      "greasepaint plans the days of a film made for fun: who comes when, sits in "
      "which chair, plays and helps where.";
  text = flow_text(text, 0, kWidth) + "\n\n";
  std::vector<std::pair<std::string, std::string>> rows;
  for (const CommandRecord& command : commands()) {
    if (!command.hidden) rows.emplace_back(usage_of(command), command.summary);
  }
  text += definitions(rows);
  text += "\nMore about one of them: greasepaint help COMMAND\n";
  return text;
}

std::string help_of(const CommandRecord& command) {
  std::string text = "usage: " + usage_of(command) + "\n\n" + paragraphs(command.text);
  std::vector<std::pair<std::string, std::string>> rows;
  for (const ArgumentRecord& argument : command.arguments) {
    rows.emplace_back(argument.name, argument.text);
  }
  if (!rows.empty()) text += definitions(rows) + "\n";
  rows.clear();
  for (const OptionRecord& option : command.options) {
    rows.emplace_back("--" + option.name + (option.value.empty() ? "" : " " + option.value),
                      option.text + range_of(option));
  }
  text += "options:\n" + definitions(rows);
  return text;
}

std::string option_names() {
  std::string text;
  for (const CommandRecord& command : commands()) {
    if (command.hidden) continue;
    for (const OptionRecord& option : command.options) {
      text += command.name + " --" + option.name + "\n";
    }
  }
  return text;
}

}  // namespace gp
