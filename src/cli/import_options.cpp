#include "cli/option_records.h"

namespace gp {
namespace {

CommandRecord import_command() {
  CommandRecord command;
  command.name = "import";
  command.summary = "take over people or shots from lists";
  command.text =
      "Reads people from tables (CSV) and address cards (vCard 3 and 4), or shots from a table or "
      "a "
      "text with a shot a line, shows how the lists are understood and what would happen, and "
      "changes "
      "nothing before it is told to: by --yes, or on a terminal by the answer to its question.\n"
      "Somebody who is perhaps there already, by name, phone or mail, is shown beside the one "
      "there "
      "and waits for a decision: see --same and --decide. What is not taken over is told; "
      "--left-out "
      "writes all of it into a file.\n"
      "In a book everything taken over is one change, which undo takes back.";
  command.arguments = {
      {"FILE", "the production file or the book that they come into", true, {}, false},
      {"LIST", "the lists; - reads standard input", true, {}, true}};
  command.options = {
      flag_option("scenes", "The lists are lists of shots."),
      flag_option("yes", "Take over what is shown, without a question."),
      flag_option("look", "Show it and change nothing, without a question."),
      file_option("json",
                  "OUT",
                  "Write the production with those who come in there; - writes it to standard "
                  "output. For a production file; a book is changed itself."),
      flag_option("in-place", "Write the production file itself anew."),
      text_option(
          "columns",
          "LIST",
          "Which column holds what: \"name=2,phone=Tel,none=5\", by number or header. Columns "
          "not named are guessed."),
      choice_option("header",
                    "ANSWER",
                    {"guess", "yes", "no"},
                    "guess",
                    "Whether the first row names the columns."),
      choice_option("separator",
                    "SIGN",
                    {"guess", "comma", "semicolon", "tab"},
                    "guess",
                    "What parts the columns."),
      text_option(
          "encoding",
          "NAME",
          "How the lists are written: UTF-8, UTF-16, ISO-8859-1, windows-1252 …; not given: "
          "their bytes are asked."),
      choice_option("answer",
                    "ANSWER",
                    {"asked", "yes", "maybe", "no"},
                    "asked",
                    "The answer of those whose list says none."),
      choice_option(
          "same",
          "WHAT",
          {"hold", "skip", "fill", "replace", "add"},
          "hold",
          "What to do with those who are perhaps there already: let them wait, skip them, "
          "fill in what the one there lacks, replace it, or add them as somebody else. fill "
          "and replace count where the names agree; the others wait."),
      text_option(
          "decide", "LIST", "The same for single ones, by the numbers shown: \"4=fill,7=add\"."),
      file_option(
          "left-out",
          "FILE",
          "Write everything that is not taken over into this file, as CSV: file, line, who, "
          "field, text, why."),
      help_option()};
  return command;
}

}  // namespace

std::vector<CommandRecord> import_commands() {
  return {import_command()};
}

}  // namespace gp
