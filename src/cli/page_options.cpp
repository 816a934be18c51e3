#include "cli/option_records.h"

namespace gp {
namespace {

ArgumentRecord book_argument() {
  return {"BOOK", "the book of the production", true, {}};
}

CommandRecord serve_command() {
  CommandRecord command;
  command.name = "serve";
  command.summary = "show the sign-up pages and the organiser's pages";
  command.text =
      "Shows the pages of a book on this computer: the sign-up page, everybody's personal page, "
      "the organiser's pages behind a passphrase, and the door list behind a code. A book without "
      "a passphrase gets one, which is shown once.\n"
      "Without --lan only browsers on this computer reach the pages. With it phones on the same "
      "network do; the address is shown as a QR code, and a poster for the wall is written as PDF "
      "and PNG. Use --tls as well wherever others share the network: without it they can read "
      "along, and the pages say so.\n"
      "What happens is told on standard error, without names, answers or secrets. Ctrl-C ends it.";
  command.arguments = {book_argument()};
  command.options = {
      number_option("port", OptionKind::whole, 0, 65'535, "8080", "Port; 0 takes any free one."),
      flag_option("lan", "Let devices on the same network reach the pages."),
      flag_option("tls",
                  "Encrypt, with a certificate made beside the book unless one is given; browsers "
                  "warn of such a certificate once."),
      file_option("certificate", "FILE", "Encrypt with this certificate (PEM, with its chain)."),
      file_option("key", "FILE", "The key of the certificate (PEM)."),
      text_option("name",
                  "NAME",
                  "The pages are reached under this host name too, and links begin with it."),
      file_option("poster",
                  "DIR",
                  "Write the poster into this folder, made if missing, with --lan or without; not "
                  "given: beside the book, with --lan."),
      file_option("fonts",
                  "DIR",
                  "Look for fonts in this folder and below it instead of where Debian has them."),
      flag_option("quiet", "Show the address and nothing else, and keep no log."),
      help_option()};
  return command;
}

CommandRecord passphrase_command() {
  CommandRecord command;
  command.name = "passphrase";
  command.summary = "set the passphrase of the organiser's pages";
  command.text =
      "Asks for a new passphrase twice and keeps its hash in the book; when standard input is no "
      "terminal, its first line is the passphrase. Whoever is logged in with the old one is logged "
      "out. At least 8 characters; none of the 3,000 commonest.";
  command.arguments = {book_argument()};
  command.options = {flag_option("invent", "Invent one of six words, and show it once."),
                     help_option()};
  return command;
}

CommandRecord door_code_command() {
  CommandRecord command;
  command.name = "door-code";
  command.summary = "make a new code for the helpers at the door";
  command.text =
      "Makes a code that opens the door list and nothing else, keeps its hash in the book, and "
      "shows it once. The code before it is no longer good, and whoever came in with it is logged "
      "out.";
  command.arguments = {book_argument()};
  command.options = {flag_option("off", "Take the code away instead; nobody gets in with one."),
                     help_option()};
  return command;
}

CommandRecord link_command() {
  CommandRecord command;
  command.name = "link";
  command.summary = "make a personal link for somebody";
  command.text =
      "Makes a personal link for one person of the production, or for one sign-up, and shows it "
      "once; links made before stay good. Whoever has the link sees that person's page and can "
      "change their answers: give it to nobody else.";
  command.arguments = {
      book_argument(),
      {"PERSON", "the id of a person of the production, or of a sign-up", true, {}}};
  command.options = {
      text_option("address",
                  "ADDRESS",
                  "What the link begins with, as serve shows it; not given: "
                  "http://localhost:8080."),
      flag_option("revoke", "End every link there is for them instead of making one."),
      help_option()};
  return command;
}

}  // namespace

std::vector<CommandRecord> page_commands() {
  return {serve_command(), passphrase_command(), door_code_command(), link_command()};
}

}  // namespace gp
