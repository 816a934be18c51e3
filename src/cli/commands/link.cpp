#include "base/errors.h"
#include "base/nearest.h"
#include "cli/commands/commands.h"
#include "cli/help.h"
#include "store/enrol.h"
#include "text/width.h"
#include "web/secrets.h"

#include <chrono>
#include <string>
#include <vector>

namespace gp {
namespace {

UnixTime unix_now() {
  return std::chrono::duration_cast<std::chrono::seconds>(
             std::chrono::system_clock::now().time_since_epoch())
      .count();
}

std::shared_ptr<const SignUp> find_sign_up(const BookState& state, const std::string& who) {
  auto found = state.sign_up_of_person(who);
  return found ? found : state.sign_up(who);
}

/// \throws UsageError  the production has nobody of that id
void must_be_a_person(const Production& production, const std::string& who) {
  std::vector<std::string> ids;
  for (const Person& person : production.people) {
    if (person.id == who) return;
    ids.push_back(person.id);
  }
  const std::string near = nearest(who, ids);
  throw UsageError("nobody in the book has the id \"" + who + "\"" +
                   (near.empty() ? "" : "; nearest: \"" + near + "\""));
}

/// The id of the sign-up, made where the person has none yet.
std::string sign_up_for(Book& book, const std::string& who) {
  const auto state = book.state();
  if (const auto found = find_sign_up(*state, who)) return found->id;
  must_be_a_person(*state->production, who);
  const std::string id = new_id();
  const auto kept = book.change(sign_up_for_person(*state, who, id, "command", unix_now()));
  if (std::holds_alternative<Refusal>(kept)) {
    throw WorldError("cannot make a link for " + who +
                     "; try again: the book was changed at the same moment");
  }
  return id;
}

}  // namespace

ExitCode make_link(const Arguments& arguments, Shell& shell) {
  Book book(arguments.positional[0]);
  const std::string& who = arguments.positional[1];
  if (arguments.has("revoke")) {
    const auto state = book.state();
    const auto found = find_sign_up(*state, who);
    if (!found) {
      must_be_a_person(*state->production, who);
      shell.err << "There is no link for them.\n";
      return ExitCode::right;
    }
    book.revoke_links(found->id, unix_now());
    shell.err << "Every link for them has ended.\n";
    return ExitCode::right;
  }
  std::string address =
      arguments.has("address") ? arguments.text("address") : std::string("http://localhost:8080");
  if (!address.starts_with("http://") && !address.starts_with("https://")) {
    throw UsageError("--address begins with http:// or https://, as serve shows it");
  }
  while (address.ends_with('/')) address.pop_back();
  const std::string id = sign_up_for(book, who);
  const std::string secret = new_secret();
  book.add_link(id, secret, unix_now());
  shell.out << address << "/p/" << secret << '\n';
  shell.err << "Give this link to that person alone; it is shown this once.\n";
  return ExitCode::right;
}

}  // namespace gp
