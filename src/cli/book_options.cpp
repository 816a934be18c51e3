#include "cli/option_records.h"

namespace gp {
namespace {

ArgumentRecord book_argument() {
  return {"BOOK", "the book", true, {}};
}

CommandRecord open_command() {
  CommandRecord command;
  command.name = "open";
  command.summary = "make a book of a production file";
  command.text =
      "Makes a book: one file that holds the production, the sign-ups, the plans, what was told to "
      "whom, and the history of every change. The production file stays as it is and is not needed "
      "any more.";
  command.arguments = {
      {"FILE", "the production file; - reads standard input", true, {}},
      {"BOOK", "the book to make; not given: the file's name with .book at its end", false, {}}};
  command.options = {help_option()};
  return command;
}

CommandRecord export_command() {
  CommandRecord command;
  command.name = "export";
  command.summary = "write the production of a book as a file";
  command.text =
      "Writes the production as JSON, equal to the file the book was made of and all "
      "changes since; or with --people the people as a table, which import reads back.";
  command.arguments = {book_argument()};
  command.options = {text_option("at", "REVISION", "As it was at this revision (see history)."),
                     file_option("to", "FILE", "Write it there instead of to standard output."),
                     file_option("people",
                                 "FILE",
                                 "Write the people there as CSV, and nothing else; - writes to "
                                 "standard output. Of a production file too. No cell begins as a "
                                 "formula does: an apostrophe comes before it."),
                     help_option()};
  return command;
}

CommandRecord history_command() {
  CommandRecord command;
  command.name = "history";
  command.summary = "show what was changed, by whom, when and why";
  command.text = "Shows the changes of a book, the newest last.";
  command.arguments = {book_argument()};
  OptionRecord patches;
  patches.name = "patches";
  patches.text = "Show each change itself too, as JSON Patches (RFC 6902).";
  command.options = {
      text_option("since",
                  "WHEN",
                  "Only what was changed after a revision (12), or from a day on (2027-04-16, in "
                  "UTC)."),
      patches,
      help_option()};
  return command;
}

CommandRecord undo_command(const std::string& name) {
  const bool undo = name == "undo";
  CommandRecord command;
  command.name = name;
  command.summary = undo ? "take back a change of a book" : "take back an undo of a book";
  command.text =
      undo ? "Takes back the newest change of the organiser's that is not taken back yet; friends' "
             "own answers are taken back by their revision alone. Where others changed the same "
             "values since, nothing is changed and both are shown."
           : "Takes the newest undo of the organiser's back.";
  command.arguments = {book_argument()};
  if (undo) {
    command.options.push_back(text_option("revision", "N", "Take back this change instead."));
  }
  command.options.push_back(help_option());
  return command;
}

CommandRecord change_command() {
  CommandRecord command;
  command.name = "change";
  command.summary = "change a document of a book";
  command.text =
      "Applies a JSON Patch (RFC 6902) to the production, or to another document of the book. The "
      "whole result is checked first; a patch that does not apply or makes faults changes nothing.";
  command.arguments = {book_argument(),
                       {"PATCH", "the patch as a JSON file; - reads standard input", true, {}}};
  command.options = {
      text_option("why", "TEXT", "A few words for the history."),
      text_option("document",
                  "NAME",
                  "Change this document: production, settings or sign-up/ID; not given: "
                  "production."),
      text_option("seen",
                  "REVISION",
                  "The revision the patch was made for; changes since are merged, or told where "
                  "they touch the same values."),
      help_option()};
  return command;
}

CommandRecord forget_command() {
  CommandRecord command;
  command.name = "forget";
  command.summary = "remove what is private from a book, and prove it";
  command.text =
      "Removes food, skin, sizes, birth dates, phones, mail addresses, contacts in need, consents, "
      "notices and free words of everybody, from the book, its whole history and its plans; or one "
      "person altogether. Then the file is written anew and its bytes are looked through. This "
      "cannot be undone. Copies of the file, exports and prints are not touched.";
  command.arguments = {
      book_argument(),
      {"PERSON", "forget this person alone: the id of a person or of a sign-up", false, {}}};
  command.options = {help_option()};
  return command;
}

}  // namespace

std::vector<CommandRecord> book_commands() {
  return {open_command(),
          export_command(),
          history_command(),
          undo_command("undo"),
          undo_command("redo"),
          change_command(),
          forget_command()};
}

}  // namespace gp
