#include "store/forget.h"

#include "base/errors.h"
#include "store/book_inside.h"
#include "store/change_work.h"
#include "store/documents.h"
#include "store/json_patch.h"
#include "store/schema.h"
#include "store/scrub.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <utility>

namespace gp {
namespace {

using Documents = std::map<std::string, Document>;

constexpr std::size_t kShortestSearched = 6;  // bytes; shorter ones stand in any file by chance

/// The book for this process alone, without a write-ahead log, so that all its bytes are in one
/// file. \throws WorldError  another has it open
class LoneBook {
 public:
  explicit LoneBook(const std::string& path)
      : database_(path, Database::Mode::read_write, std::chrono::seconds(1)) {
    if (needs_steps(database_, schema_steps())) bring_up_to_date(database_, schema_steps());
    database_.run("PRAGMA locking_mode = EXCLUSIVE");
    std::string mode;
    try {
      mode = database_.ask("PRAGMA journal_mode = DELETE");
    } catch (const DatabaseError& error) {
      if (error.cause() != DatabaseError::Cause::locked) throw;
    }
    if (mode != "delete") {
      throw WorldError("cannot forget anything in " + path +
                       " now; stop `greasepaint serve` and whatever else has the book open, then "
                       "try again: another program has it open");
    }
    database_.run("PRAGMA secure_delete = ON");
    database_.run("PRAGMA synchronous = FULL");
  }
  LoneBook(const LoneBook&) = delete;
  LoneBook& operator=(const LoneBook&) = delete;
  ~LoneBook() {
    try {
      database_.ask("PRAGMA journal_mode = WAL");
    } catch (const std::exception&) {
      // whoever opens it next does it
    }
  }
  Database& operator*() { return database_; }
  Database* operator->() { return &database_; }

 private:
  Database database_;
};

Documents read_documents(Database& database) {
  Documents documents;
  Using rows = database.use("SELECT name, value FROM documents");
  while (rows->step()) documents[rows->text(0)] = kept_document(database, rows->text(1));
  return documents;
}

Revision newest_revision(Database& database) {
  Using row = database.use("SELECT max(revision) FROM history");
  row->step();
  return row->whole(0);
}

void write_row(Database& database,
               const HistoryRow& row,
               const std::vector<ChangedDocument>& edits,
               const std::string& who) {
  const std::string names = document_names(edits);
  const std::string text = edits_text(edits);
  Using update =
      database.use("UPDATE history SET who = ?2, documents = ?3, edits = ?4 WHERE revision = ?1");
  update->bind(1, row.entry.revision).bind(2, who).bind(3, names).bind(4, text);
  update->run();
}

/// Goes back through the whole history and writes each change anew, between documents that were
/// scrubbed. What was patched out of a text comes back whole on the way, and is scrubbed whole.
void rewrite_history(Database& database,
                     Documents documents,
                     Scrubber& scrubber,
                     const std::set<std::string>& gone_writers) {
  for (Revision revision = newest_revision(database); revision >= 1; --revision) {
    const auto row = load_row(database, revision);
    if (!row) continue;
    std::vector<ChangedDocument> edits;
    for (auto edit = row->inverse.rbegin(); edit != row->inverse.rend(); ++edit) {
      Document& document = documents[edit->document];
      Document before = patched(document, edit->patch);
      const Document now = scrubber.scrub(edit->document, document);
      const Document was = scrubber.scrub(edit->document, before);
      ChangedDocument changed;
      changed.name = edit->document;
      changed.patch = patch_between(was, now);
      changed.inverse = patch_between(now, was);
      if (!same_json(was, now)) edits.push_back(std::move(changed));
      document = std::move(before);
    }
    std::reverse(edits.begin(), edits.end());
    const bool gone = gone_writers.contains(row->entry.who);
    write_row(database, *row, edits, gone ? "forgotten" : row->entry.who);
  }
}

void write_documents(Database& database, const Documents& documents, Scrubber& scrubber) {
  for (const auto& [name, document] : documents) {
    const Document after = scrubber.scrub(name, document);
    if (same_json(document, after)) continue;
    const std::string text = after.dump();
    Using row = after.is_null() ? database.use("DELETE FROM documents WHERE name = ?1")
                                : database.use("UPDATE documents SET value = ?2 WHERE name = ?1");
    row->bind(1, name);
    if (!after.is_null()) row->bind(2, text);
    row->run();
  }
}

void add_row(Database& database, const std::string& why, UnixTime at) {
  Using row = database.use(
      "INSERT INTO history (revision, at, who, why, undoes, documents, edits) "
      "VALUES ((SELECT max(revision) + 1 FROM history), ?1, 'command', ?2, NULL, '', '[]')");
  row->bind(1, at).bind(2, why);
  row->run();
}

std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// A text as it stands inside JSON, with every character above ASCII as it is or escaped.
std::string in_json(const std::string& text, bool ascii) {
  const std::string quoted_text =
      Document(text).dump(-1, ' ', ascii, Document::error_handler_t::replace);
  return quoted_text.substr(1, quoted_text.size() - 2);
}

/// Every text a person may still read in the newest documents.
void collect_texts(const Document& value, std::vector<std::string>& texts) {
  if (value.is_string()) texts.push_back(value.get<std::string>());
  if (!value.is_structured()) return;
  for (const Document& inner : value) collect_texts(inner, texts);
}

/// Looks for what was removed in the bytes of the files.
void prove(const std::string& path,
           const Documents& scrubbed,
           const std::set<std::string>& removed,
           Forgotten& result) {
  std::vector<std::string> still_said;
  for (const auto& [name, document] : scrubbed) collect_texts(document, still_said);
  std::string bytes;
  for (const char* end : {"", "-wal", "-shm", "-journal"}) {
    if (std::filesystem::exists(path + end)) bytes += bytes_of(path + end);
  }
  std::size_t too_short = 0;
  std::size_t elsewhere = 0;
  for (const std::string& text : removed) {
    if (text.size() < kShortestSearched) {
      ++too_short;
      continue;
    }
    const bool said = std::any_of(still_said.begin(), still_said.end(), [&](const auto& one) {
      return one.find(text) != std::string::npos;
    });
    if (said) {
      ++elsewhere;
      continue;
    }
    for (const std::string& form : {text, in_json(text, false), in_json(text, true)}) {
      if (bytes.find(form) == std::string::npos) continue;
      result.left.push_back(text);
      break;
    }
  }
  if (too_short > 0) {
    result.remarks.push_back("texts removed but too short to be searched for in the file: " +
                             std::to_string(too_short));
  }
  if (elsewhere > 0) {
    result.remarks.push_back("texts removed that stand in the production for another reason too: " +
                             std::to_string(elsewhere));
  }
}

Forgotten finish(const std::string& path, const Documents& before, Scrubber& scrubber) {
  Forgotten result;
  result.people = scrubber.touched().size();
  result.values = scrubber.removed().size();
  Documents scrubbed;
  for (const auto& [name, document] : before) scrubbed[name] = scrubber.scrub(name, document);
  prove(path, scrubbed, scrubber.removed(), result);
  return result;
}

/// A book that opens is right; what is none is told in words.
void must_be_book(const std::string& path) {
  const Book book(path);
}

std::string free_id(const Documents& documents) {
  std::vector<std::string> texts;
  for (const auto& [name, document] : documents) collect_texts(document, texts);
  std::string id = "somebody";
  for (int number = 2;; ++number) {
    const bool taken = std::any_of(
        texts.begin(), texts.end(), [&](const std::string& one) { return one.starts_with(id); });
    if (!taken) return id;
    id = "somebody" + std::to_string(number);
  }
}

/// The ids in the production and of the sign-ups that belong to whoever is to be forgotten.
struct Whose {
  std::set<std::string> people;
  std::set<std::string> sign_ups;
  std::set<std::string> names;
};

Whose whose(const BookState& state, const std::string& who) {
  Whose all;
  for (const auto& sign_up : state.sign_ups) {
    const bool theirs = sign_up->id == who || (!sign_up->person.empty() && sign_up->person == who);
    if (!theirs) continue;
    all.sign_ups.insert(sign_up->id);
    all.names.insert(sign_up->name);
    for (const Companion& companion : sign_up->brings) all.names.insert(companion.name);
    if (!sign_up->person.empty()) all.people.insert(sign_up->person);
    for (const Companion& companion : sign_up->brings) {
      if (!companion.person.empty()) all.people.insert(companion.person);
    }
  }
  for (const Person& person : state.production->people) {
    if (person.id == who) all.people.insert(who);
    if (all.people.contains(person.id)) all.names.insert(person.name);
  }
  return all;
}

void forget_rows(Database& database, const PersonScrubber& scrubber) {
  for (const std::string& id : scrubber.sign_ups()) {
    for (const char* sql :
         {"DELETE FROM links WHERE sign_up = ?1", "DELETE FROM form_keys WHERE sign_up = ?1"}) {
      Using row = database.use(sql);
      row->bind(1, id);
      row->run();
    }
  }
  for (const std::string& id : scrubber.people()) {
    const std::string stand_in = scrubber.stand_in_for(id);
    Using row = database.use("UPDATE told SET person = ?2 WHERE person = ?1");
    row->bind(1, id).bind(2, stand_in);
    row->run();
  }
}

void forget_in_plans(Database& database, PersonScrubber& scrubber) {
  std::vector<std::pair<std::int64_t, std::string>> plans;
  {
    Using rows = database.use("SELECT number, json FROM plans");
    while (rows->step()) plans.emplace_back(rows->whole(0), rows->text(1));
  }
  for (const auto& [number, json] : plans) {
    const std::string text = scrubber.scrub_plan(kept_document(database, json)).dump();
    Using row = database.use("UPDATE plans SET json = ?2 WHERE number = ?1");
    row->bind(1, number).bind(2, text);
    row->run();
  }
}

}  // namespace

Forgotten forget_private(const std::string& path, UnixTime at) {
  must_be_book(path);
  PrivateScrubber scrubber;
  Documents documents;
  {
    LoneBook book(path);
    Transaction transaction(*book, "BEGIN EXCLUSIVE");
    documents = read_documents(*book);
    rewrite_history(*book, documents, scrubber, {});
    write_documents(*book, documents, scrubber);
    add_row(*book, "forgot what was private", at);
    transaction.commit();
    book->run("VACUUM");
  }
  return finish(path, documents, scrubber);
}

Forgotten forget_person(const std::string& path, const std::string& who, UnixTime at) {
  Whose all;
  {
    Book book(path);
    all = whose(*book.state(), who);
  }
  if (all.people.empty() && all.sign_ups.empty()) {
    throw WorldError("cannot forget " + who +
                     "; look at the people and sign-ups of the book: nobody there has that id");
  }
  Documents documents;
  std::optional<PersonScrubber> scrubber;
  {
    LoneBook book(path);
    Transaction transaction(*book, "BEGIN EXCLUSIVE");
    documents = read_documents(*book);
    scrubber.emplace(all.people, all.sign_ups, all.names, free_id(documents));
    rewrite_history(*book, documents, *scrubber, all.sign_ups);
    write_documents(*book, documents, *scrubber);
    forget_rows(*book, *scrubber);
    forget_in_plans(*book, *scrubber);
    add_row(*book, "forgot one person", at);
    transaction.commit();
    book->run("VACUUM");
  }
  return finish(path, documents, *scrubber);
}

}  // namespace gp
