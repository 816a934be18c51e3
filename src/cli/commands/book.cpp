#include "store/book.h"

#include "base/errors.h"
#include "base/json.h"
#include "cli/commands/commands.h"
#include "intake/people_columns.h"
#include "store/forget.h"
#include "text/width.h"
#include "time/clock.h"

#include <charconv>
#include <chrono>
#include <ctime>

namespace gp {
namespace {

constexpr const char* kWho = "command";

UnixTime now() {
  return std::time(nullptr);
}

Revision revision_of(const std::string& option, const std::string& text) {
  Revision revision = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), revision);
  if (error != std::errc() || end != text.data() + text.size() || revision < 0) {
    throw UsageError("--" + option + " takes a revision, a whole number such as 12, not \"" + text +
                     "\"");
  }
  return revision;
}

std::string moment_text(UnixTime at) {
  const std::chrono::sys_seconds moment{std::chrono::seconds{at}};
  const auto day = std::chrono::floor<std::chrono::days>(moment);
  const auto minutes = std::chrono::floor<std::chrono::minutes>(moment - day);
  return format(Date(day)) + " " + format(WallTime{static_cast<std::int32_t>(minutes.count())}) +
         " UTC";
}

void tell_refusal(const Refusal& refusal, const std::string& path, Shell& shell) {
  for (const Fault& fault : refusal.faults) {
    shell.err << harmless(path + ": " + (fault.path.empty() ? "" : fault.path + ": ") + "found " +
                          fault.found + ", expected " + fault.expected +
                          (fault.nearest.empty() ? "" : "; nearest: " + fault.nearest))
              << '\n';
  }
  for (const Collision& one : refusal.collisions) {
    shell.err << harmless(path + ": " + one.path + " was changed by others too")
              << "\n  before: " << harmless(one.before.dump())
              << "\n  theirs: " << harmless(one.theirs.dump())
              << "\n  yours:  " << harmless(one.mine.dump()) << '\n';
  }
  shell.err << "nothing was changed\n";
}

ExitCode answer(const std::variant<Kept, Refusal>& result, const std::string& path, Shell& shell) {
  if (const auto* refusal = std::get_if<Refusal>(&result)) {
    tell_refusal(*refusal, path, shell);
    return ExitCode::faults;
  }
  const Kept& kept = std::get<Kept>(result);
  shell.out << path << ": revision " << kept.revision
            << (kept.merged ? ", merged with what others changed" : "") << '\n';
  return ExitCode::right;
}

std::string book_name(const std::string& file) {
  constexpr std::string_view kEnd = ".json";
  const bool named = file.ends_with(kEnd) && file.size() > kEnd.size();
  return (named ? file.substr(0, file.size() - kEnd.size()) : file) + ".book";
}

}  // namespace

ExitCode open_book(const Arguments& arguments, Shell& shell) {
  const std::string& file = arguments.positional[0];
  const bool named = arguments.positional.size() > 1;
  if (file == "-" && !named) throw UsageError("BOOK is needed where FILE is standard input");
  const std::string path = named ? arguments.positional[1] : book_name(file);
  const std::string bytes = shell.files.read(file, kMostJsonBytes);
  const std::vector<Fault> faults = Book::make(path, bytes, now());
  if (!faults.empty()) {
    tell_faults(faults, file, bytes, shell);
    return ExitCode::faults;
  }
  shell.out << path << ": revision 1\n";
  return ExitCode::right;
}

namespace {

/// Everybody of a book or of a production file, as CSV.
ExitCode export_people(const Arguments& arguments, Shell& shell) {
  const std::string& path = arguments.positional[0];
  std::string csv;
  if (arguments.has("at")) {
    Book book(path);
    csv = people_csv(*book.state_at(revision_of("at", arguments.text("at")))->production);
  } else {
    const auto read = read_production_file(path, shell);
    if (!read) return ExitCode::faults;
    csv = people_csv(read->production);
  }
  shell.files.write(arguments.text("people"), csv);
  shell.err
      << "this list may hold what is private (phones, births, food, skin): keep it as safe as "
         "the book, and delete it when it has served\n";
  return ExitCode::right;
}

}  // namespace

ExitCode export_book(const Arguments& arguments, Shell& shell) {
  if (arguments.has("people")) {
    if (arguments.has("to"))
      throw UsageError(
          "--people writes the people and --to the production: "
          "give one of them");
    return export_people(arguments, shell);
  }
  Book book(arguments.positional[0]);
  const auto state =
      arguments.has("at") ? book.state_at(revision_of("at", arguments.text("at"))) : book.state();
  const std::string bytes = state->production_document->dump(2) + "\n";
  if (arguments.has("to")) {
    shell.files.write(arguments.text("to"), bytes);
  } else {
    shell.out << bytes;
  }
  return ExitCode::right;
}

ExitCode show_history(const Arguments& arguments, Shell& shell) {
  Book book(arguments.positional[0]);
  Revision after = 0;
  if (arguments.has("since")) {
    const std::string since = arguments.text("since");
    if (const auto date = parse_date(since)) {
      const UnixTime begins =
          std::chrono::sys_seconds(std::chrono::sys_days(*date)).time_since_epoch().count();
      for (const HistoryEntry& entry : book.history(0)) {
        if (entry.at < begins) after = entry.revision;
      }
    } else {
      after = revision_of("since", since);
    }
  }
  for (const HistoryEntry& entry : book.history(after)) {
    shell.out << entry.revision << "  " << moment_text(entry.at) << "  " << harmless(entry.who)
              << "  " << harmless(entry.why);
    if (entry.undoes) shell.out << " (of revision " << *entry.undoes << ")";
    shell.out << '\n';
    if (!arguments.has("patches")) continue;
    for (const Edit& edit : entry.edits) {
      shell.out << "    " << harmless(edit.document + " " + edit.patch.dump()) << '\n';
    }
  }
  return ExitCode::right;
}

ExitCode undo_change(const Arguments& arguments, Shell& shell) {
  const std::string& path = arguments.positional[0];
  Book book(path);
  if (arguments.has("revision")) {
    const Revision revision = revision_of("revision", arguments.text("revision"));
    return answer(book.undo_revision(revision, kWho, now()), path, shell);
  }
  const auto result =
      arguments.command->name == "undo" ? book.undo({}, now()) : book.redo({}, now());
  if (result) return answer(*result, path, shell);
  shell.out << path << ": there is nothing to " << arguments.command->name << '\n';
  return ExitCode::right;
}

ExitCode change_book(const Arguments& arguments, Shell& shell) {
  const std::string& path = arguments.positional[0];
  const std::string& file = arguments.positional[1];
  const std::string bytes = shell.files.read(file, kMostJsonBytes);
  // our own reader first: it bounds depth and size, and tells every fault with its place
  if (const JsonRead read = read_json(bytes); !read.faults.empty()) {
    tell_faults(read.faults, file, bytes, shell);
    return ExitCode::faults;
  }
  Change change;
  const std::string document =
      arguments.has("document") ? arguments.text("document") : std::string("production");
  change.edits.push_back({document, Document::parse(bytes)});
  change.who = kWho;
  change.why = arguments.has("why") ? arguments.text("why") : std::string("changed by a command");
  change.at = now();
  if (arguments.has("seen")) change.seen = revision_of("seen", arguments.text("seen"));
  Book book(path);
  return answer(book.change(std::move(change)), path, shell);
}

ExitCode forget_in_book(const Arguments& arguments, Shell& shell) {
  const std::string& path = arguments.positional[0];
  const Forgotten done = arguments.positional.size() > 1
                             ? forget_person(path, arguments.positional[1], now())
                             : forget_private(path, now());
  shell.out << path << ": " << counted(done.values, "text", "texts") << " of "
            << counted(done.people, "person", "people") << " removed";
  if (done.left.empty()) shell.out << "; the file's bytes hold none of them";
  shell.out << '\n';
  for (const std::string& remark : done.remarks) shell.out << "  " << remark << '\n';
  for (const std::string& text : done.left) {
    shell.err << "still in the file: " << harmless(text) << '\n';
  }
  return done.left.empty() ? ExitCode::right : ExitCode::world;
}

}  // namespace gp
