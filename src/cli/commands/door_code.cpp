#include "cli/commands/commands.h"
#include "store/book.h"
#include "web/secrets.h"

#include <string>

namespace gp {

ExitCode set_door_code(const Arguments& arguments, Shell& shell) {
  Book book(arguments.positional[0]);
  if (arguments.has("off")) {
    book.set_secret("door-code", "");
    shell.err << "There is no code for the door any more.\n";
    return ExitCode::right;
  }
  const std::string code = invented_code();
  book.set_secret("door-code", hash_passphrase(plain_code(code)));
  shell.out << code << '\n';
  shell.err << "This code opens the door list at /door, and nothing else. It is shown this once.\n";
  return ExitCode::right;
}

}  // namespace gp
