#include "base/errors.h"
#include "cli/commands/commands.h"
#include "cli/terminal.h"
#include "store/book.h"
#include "web/secrets.h"

#include <string>

#include <termios.h>
#include <unistd.h>

namespace gp {
namespace {

constexpr std::size_t kMostInput = 4096;

/// While it lives the terminal does not show what is typed.
class NoEcho {
 public:
  NoEcho() : changed_(::tcgetattr(STDIN_FILENO, &before_) == 0) {
    if (!changed_) return;
    termios quiet = before_;
    quiet.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &quiet);
  }
  NoEcho(const NoEcho&) = delete;
  NoEcho& operator=(const NoEcho&) = delete;
  ~NoEcho() {
    if (changed_) ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
  }

 private:
  termios before_{};
  bool changed_;
};

std::string line_of_terminal() {
  std::string line;
  char c = 0;
  while (::read(STDIN_FILENO, &c, 1) == 1 && c != '\n' && line.size() < kMostInput) line += c;
  return line;
}

std::string first_line(const std::string& text) {
  std::string line = text.substr(0, text.find('\n'));
  if (line.ends_with('\r')) line.pop_back();
  return line;
}

std::string asked_passphrase(Shell& shell) {
  if (!is_terminal(STDIN_FILENO)) return first_line(shell.files.read("-", kMostInput));
  const NoEcho quiet;
  shell.err << "New passphrase (nothing is shown): " << std::flush;
  std::string first = line_of_terminal();
  shell.err << "\nAgain: " << std::flush;
  const std::string second = line_of_terminal();
  shell.err << '\n';
  if (first != second) throw UsageError("the two passphrases differ; nothing was changed");
  return first;
}

}  // namespace

ExitCode set_passphrase(const Arguments& arguments, Shell& shell) {
  Book book(arguments.positional[0]);
  const bool invented = arguments.has("invent");
  const std::string passphrase = invented ? invented_passphrase() : asked_passphrase(shell);
  const std::string fault = passphrase_fault(passphrase, book.state()->production->title);
  if (!fault.empty()) throw UsageError(fault + "; nothing was changed");
  book.set_secret("passphrase", hash_passphrase(passphrase));
  if (invented) shell.out << passphrase << '\n';
  shell.err << "The passphrase of the organiser's pages is set.\n";
  return ExitCode::right;
}

}  // namespace gp
