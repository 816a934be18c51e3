#include "cli/help.h"

#include <sstream>

// The macros are those of groff_man(7).

namespace gp {
namespace {

/// A text as groff prints it: backslashes, dashes as typed, no line that begins with a command.
std::string escaped(const std::string& text) {
  std::string result;
  for (const char character : text) {
    if (character == '\\') {
      result += "\\e";
    } else if (character == '-') {
      result += "\\-";
    } else if ((character == '.' || character == '\'') &&
               (result.empty() || result.back() == '\n')) {
      result += std::string("\\&") + character;
    } else {
      result += character;
    }
  }
  return result;
}

std::string paragraphs(const std::string& text) {
  std::istringstream in(text);
  std::string result;
  for (std::string paragraph; std::getline(in, paragraph);) {
    result += ".PP\n" + escaped(paragraph) + "\n";
  }
  return result;
}

std::string definition(const std::string& term, const std::string& meaning) {
  return ".TP\n" + term + "\n" + escaped(meaning) + "\n";
}

std::string command_part(const CommandRecord& command) {
  std::string line = ".SS \"greasepaint " + command.name;
  for (const ArgumentRecord& argument : command.arguments) {
    line += argument.needed ? " " + argument.name : " [" + argument.name + "]";
    if (argument.many) line += " ...";
  }
  std::string text = line + "\"\n" + paragraphs(command.text);
  for (const ArgumentRecord& argument : command.arguments) {
    text += definition("\\fI" + escaped(argument.name) + "\\fR", argument.text);
  }
  for (const OptionRecord& option : command.options) {
    text += definition("\\fB" + escaped("--" + option.name) + "\\fR" +
                           (option.value.empty() ? "" : " \\fI" + escaped(option.value) + "\\fR"),
                       option.text + range_of(option));
  }
  return text;
}

}  // namespace

std::string man_page() {
  std::string text = ".TH GREASEPAINT 1 \"\" \"" + escaped(version_line()) +
                     "\" \"User commands\"\n.SH NAME\n"
                     "greasepaint \\- plan the days of a film made for fun\n.SH SYNOPSIS\n";
  for (const CommandRecord& command : commands()) {
    if (command.hidden) continue;
    text += ".B greasepaint " + command.name + "\n";
    for (const ArgumentRecord& argument : command.arguments) {
      text += argument.needed ? ".I " + argument.name + "\n" : ".RI [ " + argument.name + " ]\n";
    }
    if (command.options.size() > 1) text += ".RI [ options ]\n";
    text += ".br\n";
  }
  text += ".SH DESCRIPTION\n" +
          escaped(
              "greasepaint reads a production file: the people who said they come, the parts, "
              "costumes, make-up stations and scenes of a film. It plans who plays and helps "
              "where, in which order, and when each person must come, so that everybody gives "
              "the least of their time; and it prints the day on paper. Everything happens on "
              "this computer; nothing is sent anywhere.") +
          "\n.SH COMMANDS\n";
  for (const CommandRecord& command : commands()) {
    if (!command.hidden) text += command_part(command);
  }
  text += ".SH \"EXIT STATUS\"\n";
  for (const ExitRecord& record : exit_records()) {
    text += definition("\\fB" + std::to_string(record.code) + "\\fR", record.text);
  }
  text +=
      ".SH ENVIRONMENT\n" +
      definition("\\fBNO_COLOR\\fR",
                 "When set to anything, colours are not used unless --colour always is given.") +
      ".SH EXAMPLES\n.PP\n" + escaped("Check a file, then plan its days and print the sheets:") +
      "\n.PP\n.nf\n.RS\n" +
      escaped(
          "greasepaint check production.json\n"
          "greasepaint plan production.json --json plan.json --out sheets") +
      "\n.RE\n.fi\n";
  return text;
}

}  // namespace gp
