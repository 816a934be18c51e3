#include "cli/commands/import.h"

#include "base/json.h"
#include "cli/commands/commands.h"
#include "cli/terminal.h"
#include "model/read_production.h"
#include "store/json_diff.h"
#include "text/width.h"

#include <algorithm>
#include <ctime>
#include <iostream>
#include <utility>

#include <unistd.h>

namespace gp {
namespace {

constexpr const char* kStandard = "-";

/// One list of the production: entries that were there stay as they are written, but for those in
/// `changed`; new ones come behind.
void bring_list(Document& after,
                const Document& fresh,
                const char* list,
                const std::vector<std::size_t>& changed) {
  const auto written = fresh.find(list);
  if (written == fresh.end()) return;
  Document& kept = after[list];
  if (!kept.is_array()) kept = Document::array();
  for (const std::size_t index : changed) kept[index] = (*written)[index];
  for (std::size_t index = kept.size(); index < written->size(); ++index) {
    kept.push_back((*written)[index]);
  }
}

/// "name=2,phone=Tel": parted by commas, then by the first "=".
std::vector<std::pair<std::string, std::string>> pairs_of(const std::string& option,
                                                          const std::string& text) {
  std::vector<std::pair<std::string, std::string>> out;
  std::size_t at = 0;
  while (at <= text.size()) {
    const std::size_t end = std::min(text.find(',', at), text.size());
    const std::string one = text.substr(at, end - at);
    const std::size_t equals = one.find('=');
    if (equals == std::string::npos || equals == 0 || equals + 1 == one.size()) {
      throw UsageError("--" + option + " takes pairs such as \"" +
                       (option == "decide" ? "4=fill,7=add" : "name=2,phone=Tel") + "\", not \"" +
                       one + "\"");
    }
    out.emplace_back(one.substr(0, equals), one.substr(equals + 1));
    at = end + 1;
  }
  return out;
}

}  // namespace

ExitCode import_lists(const Arguments& arguments, Shell& shell) {
  if (arguments.has("yes") && arguments.has("look")) {
    throw UsageError("--yes takes over and --look does not; give one of them");
  }
  return arguments.has("scenes") ? import_scenes(arguments, shell)
                                 : import_people(arguments, shell);
}

std::optional<ImportTarget> ImportTarget::open(const Arguments& arguments, Shell& shell) {
  ImportTarget target;
  target.path_ = arguments.positional[0];
  const auto& all = arguments.positional;
  if (std::count(all.begin(), all.end(), kStandard) > 1) {
    throw UsageError("standard input (-) can be read only once");
  }
  const std::string bytes = shell.files.read(target.path_, kMostJsonBytes);
  if (target.path_ != kStandard && Book::looks_like_book(bytes)) {
    if (arguments.has("json") || arguments.has("in-place")) {
      throw UsageError(target.path_ +
                       " is a book: it is changed itself, without --json and --in-place");
    }
    target.book_ = std::make_unique<Book>(target.path_);
    target.state_ = target.book_->state();
    target.production_ = *target.state_->production;
    return target;
  }
  if (arguments.has("json") && arguments.has("in-place")) {
    throw UsageError("--json and --in-place: give one of them");
  }
  if (arguments.has("json")) target.out_ = arguments.text("json");
  if (arguments.has("in-place")) target.out_ = target.path_;
  if (arguments.has("in-place") && target.path_ == kStandard) {
    throw UsageError("standard input cannot be written in place; use --json OUT");
  }
  if (target.out_.empty() && arguments.has("yes")) {
    throw UsageError(
        "say where the production goes: --json OUT writes it there, --in-place writes " +
        target.path_ + " anew");
  }
  // those who come may be the very ones who are missing for a part
  auto read = read_production(bytes, PeopleListed::still_coming);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    tell_faults(*faults, target.path_, bytes, shell);
    return std::nullopt;
  }
  target.production_ = std::get<Production>(std::move(read));
  return target;
}

std::ostream& ImportTarget::told(Shell& shell) const {
  return out_ == kStandard ? shell.err : shell.out;
}

ExitCode ImportTarget::keep(const Production& merged,
                            const std::vector<PersonId>& changed,
                            const std::string& why,
                            Shell& shell) {
  return book_ ? keep_in_book(merged, changed, why, shell) : keep_in_file(merged, shell);
}

ExitCode ImportTarget::keep_in_book(const Production& merged,
                                    const std::vector<PersonId>& changed,
                                    const std::string& why,
                                    Shell& shell) {
  const Document fresh = Document::parse(write_production(merged));
  const Document& before = *state_->production_document;
  Document after = before;
  std::vector<std::size_t> people;
  for (const PersonId id : changed) people.push_back(id.index());
  bring_list(after, fresh, "places", {});
  bring_list(after, fresh, "people", people);
  bring_list(after, fresh, "roles", {});
  bring_list(after, fresh, "scenes", {});
  Change change;
  change.edits.push_back({"production", difference(before, after)});
  change.who = "command";
  change.why = why;
  change.at = std::time(nullptr);
  change.seen = state_->revision;
  const auto result = book_->change(std::move(change));
  if (const auto* kept = std::get_if<Kept>(&result)) {
    shell.out << path_ << ": revision " << kept->revision
              << (kept->merged ? ", merged with what others changed" : "") << '\n';
    return ExitCode::right;
  }
  const Refusal& refusal = std::get<Refusal>(result);
  for (const Fault& fault : refusal.faults) {
    shell.err << harmless(path_ + ": " + fault.path + ": found " + fault.found + ", expected " +
                          fault.expected)
              << '\n';
  }
  for (const Collision& one : refusal.collisions) {
    shell.err << harmless(path_ + ": " + one.path + " was changed by others meanwhile") << '\n';
  }
  shell.err << "nothing was changed; import again\n";
  return ExitCode::faults;
}

ExitCode ImportTarget::keep_in_file(const Production& merged, Shell& shell) {
  const std::string bytes = write_production(merged);
  const auto read = read_production(bytes, PeopleListed::still_coming);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    tell_faults(*faults, out_, bytes, shell);
    shell.err << "nothing was written\n";
    return ExitCode::faults;
  }
  shell.files.write(out_, bytes);
  if (out_ != kStandard) shell.out << out_ << ": written\n";
  const auto whole = read_production(bytes, PeopleListed::all);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&whole)) {
    shell.err << "before this production can be planned there is more to say:\n";
    tell_faults(*faults, out_, bytes, shell);
  }
  return ExitCode::right;
}

ListWishes list_wishes(const Arguments& arguments) {
  ListWishes wishes;
  if (arguments.has("encoding")) wishes.encoding = arguments.text("encoding");
  const std::string separator = arguments.text("separator");
  if (separator == "comma") wishes.delimiter = ',';
  if (separator == "semicolon") wishes.delimiter = ';';
  if (separator == "tab") wishes.delimiter = '\t';
  const std::string header = arguments.text("header");
  if (header == "yes") wishes.header = HeaderRow::yes;
  if (header == "no") wishes.header = HeaderRow::no;
  if (arguments.has("columns")) wishes.columns = pairs_of("columns", arguments.text("columns"));
  return wishes;
}

std::vector<std::pair<std::string, std::string>> decisions_of(const Arguments& arguments) {
  if (!arguments.has("decide")) return {};
  return pairs_of("decide", arguments.text("decide"));
}

void tell_form(const std::string& name, const ListForm& form, std::ostream& out) {
  out << harmless(input_name(name)) << ": " << form.encoding;
  if (form.encoding_guessed) out << " (guessed; --encoding names another)";
  if (form.table) {
    out << ", columns parted by "
        << (form.delimiter == ','   ? "commas"
            : form.delimiter == ';' ? "semicolons"
                                    : "tabs");
  }
  out << '\n';
  if (form.broken > 0) {
    out << "  " << counted(form.broken, "character", "characters")
        << " could not be read so; \"\xEF\xBF\xBD\" stands there (--encoding names another "
           "encoding)\n";
  }
}

void tell_bad(const std::string& name, const std::vector<BadLine>& bad, std::ostream& out) {
  std::size_t shown = 0;
  for (const BadLine& one : bad) {
    if (shown++ == kMostShownLines) {
      out << "  … and " << bad.size() - kMostShownLines
          << " more; --left-out FILE lists them all\n";
      return;
    }
    out << "  " << harmless(input_name(name)) << ":" << one.line << ": " << harmless(one.why);
    if (!one.text.empty()) out << ": " << harmless(gp::quoted(one.text));
    out << '\n';
  }
}

void tell_list_faults(const std::string& name,
                      const std::vector<std::string>& faults,
                      Shell& shell) {
  for (const std::string& fault : faults) {
    shell.err << harmless(input_name(name) + ": " + fault) << '\n';
  }
}

void add_bad(const std::string& name, const std::vector<BadLine>& bad, std::vector<LeftOut>& out) {
  for (const BadLine& one : bad) out.push_back({name, one.line, "", "", one.text, one.why});
}

void write_left_out(const Arguments& arguments,
                    const std::vector<LeftOut>& left_out,
                    Shell& shell) {
  if (!arguments.has("left-out")) return;
  shell.files.write(arguments.text("left-out"), left_out_csv(left_out));
}

bool confirmed(const Arguments& arguments, const ImportTarget& target, Shell& shell) {
  if (arguments.has("yes")) return true;
  std::ostream& out = target.told(shell);
  if (!target.has_place()) {
    out << "nothing was changed; --yes takes this over, with --json OUT or --in-place\n";
    return false;
  }
  const auto& all = arguments.positional;
  const bool asks = !arguments.has("look") && shell.err_is_terminal && is_terminal(STDIN_FILENO) &&
                    std::find(all.begin(), all.end(), kStandard) == all.end();
  if (!asks) {
    out << "nothing was changed; --yes takes this over\n";
    return false;
  }
  out << std::flush;
  shell.err << "Take this over? Type yes: " << std::flush;
  std::string answer;
  std::getline(std::cin, answer);
  if (answer == "yes" || answer == "y") return true;
  out << "nothing was changed\n";
  return false;
}

}  // namespace gp
