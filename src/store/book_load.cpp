#include "model/read_production.h"
#include "store/book_inside.h"
#include "store/change_work.h"
#include "store/documents.h"

#include <algorithm>
#include <set>

namespace gp {
namespace {

[[noreturn]] void damaged(const Database& database, const std::string& cause) {
  throw DatabaseError(DatabaseError::Cause::damaged,
                      "the book " + database.path() +
                          " is damaged; leave the file as it is, make a copy of it, and go on "
                          "with your newest whole copy: " +
                          cause);
}

/// A fault of the whole has no path.
std::string fault_place(const Fault& fault) {
  return fault.path.empty() ? "its beginning" : fault.path;
}

void load_production(Database& database, const std::string& text, BookState& state) {
  auto read = read_production(text, PeopleListed::still_coming);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    damaged(database, "its production has a fault at " + fault_place(faults->front()));
  }
  state.production_document = std::make_shared<const Document>(kept_document(database, text));
  state.production = std::make_shared<const Production>(std::get<Production>(std::move(read)));
}

std::shared_ptr<const SignUp> sign_up_of(Database& database,
                                         const std::string& name,
                                         const std::string& text) {
  auto read = read_sign_up(kept_document(database, text));
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    damaged(database, "its " + name + " has a fault at " + fault_place(faults->front()));
  }
  return std::make_shared<const SignUp>(std::get<SignUp>(std::move(read)));
}

void load_one(Database& database,
              const std::string& name,
              const std::string& text,
              BookState& state) {
  if (name == kProductionDocument) {
    load_production(database, text, state);
  } else if (name == kSettingsDocument) {
    const auto document = std::make_shared<const Document>(kept_document(database, text));
    state.settings = *document;
    state.settings_mark = document;
  } else if (!sign_up_id(name).empty()) {
    state.sign_ups.push_back(sign_up_of(database, name, text));
  }
}

void load_all(Database& database, BookState& state) {
  Using rows = database.use("SELECT name, value FROM documents ORDER BY name");
  while (rows->step()) load_one(database, rows->text(0), rows->text(1), state);
  if (state.production == nullptr) damaged(database, "it holds no production");
}

void load_changed(Database& database, Revision after, BookState& state) {
  std::set<std::string> names;
  {
    Using rows = database.use("SELECT documents FROM history WHERE revision > ?1");
    rows->bind(1, after);
    while (rows->step()) {
      const std::string lines = rows->text(0);
      for (std::size_t at = 0; at < lines.size();) {
        const std::size_t end = std::min(lines.find('\n', at), lines.size());
        names.insert(lines.substr(at, end - at));
        at = end + 1;
      }
    }
  }
  for (const std::string& name : names) {
    Using row = database.use("SELECT value FROM documents WHERE name = ?1");
    row->bind(1, name);
    const bool there = row->step();
    if (!sign_up_id(name).empty()) take_sign_up(state, sign_up_id(name));
    if (there) {
      load_one(database, name, row->text(0), state);
    } else if (name == kSettingsDocument) {
      state.settings = Document();
      state.settings_mark = nullptr;
    }
  }
}

void load_plan(Database& database, BookState& state) {
  Using row = database.use(
      "SELECT number, made_from, production_sha, at, json FROM plans WHERE number > ?1 "
      "ORDER BY number DESC LIMIT 1");
  row->bind(1, state.plan == nullptr ? std::int64_t{0} : state.plan->number);
  if (!row->step()) return;
  state.plan = std::make_shared<const KeptPlan>(
      KeptPlan{row->whole(0), row->whole(1), row->text(2), row->whole(3), row->text(4)});
}

/// The edits of a history row, their shape checked.
Document kept_edits(Database& database, const std::string& text) {
  Document edits = kept_document(database, text);
  const bool right =
      edits.is_array() && std::all_of(edits.begin(), edits.end(), [](const auto& one) {
        return one.is_object() && one.contains("document") && one.contains("patch") &&
               one.contains("inverse") && one.at("document").is_string();
      });
  if (!right) damaged(database, "its history cannot be read");
  return edits;
}

}  // namespace

Document kept_document(const Database& database, const std::string& text) {
  Document document = Document::parse(text, nullptr, false);
  if (document.is_discarded()) damaged(database, "a document in it is no JSON");
  return document;
}

std::shared_ptr<const BookState> load_state(Database& database,
                                            const std::shared_ptr<const BookState>& known) {
  BookState state = known == nullptr ? BookState{} : *known;
  {
    Using row = database.use("SELECT max(revision) FROM history");
    state.revision = row->step() ? row->maybe_whole(0).value_or(0) : 0;
  }
  if (state.revision < 1) damaged(database, "it has no history");
  if (known == nullptr) {
    load_all(database, state);
  } else if (state.revision > known->revision) {
    load_changed(database, known->revision, state);
  }
  std::sort(state.sign_ups.begin(), state.sign_ups.end(), [](const auto& a, const auto& b) {
    return a->sent_at != b->sent_at ? a->sent_at < b->sent_at : a->id < b->id;
  });
  load_plan(database, state);
  return std::make_shared<const BookState>(std::move(state));
}

std::vector<Document> load_inverses(Database& database,
                                    const std::string& document,
                                    Revision after,
                                    Revision until) {
  std::vector<Document> inverses;
  const std::string line = document + "\n";
  Using rows = database.use(
      "SELECT edits FROM history WHERE revision > ?1 AND revision <= ?3 "
      "AND instr(char(10) || documents, char(10) || ?2) > 0 ORDER BY revision DESC");
  rows->bind(1, after).bind(2, line).bind(3, until);
  while (rows->step()) {
    for (Document& edit : kept_edits(database, rows->text(0))) {
      if (edit.at("document") == document) inverses.push_back(std::move(edit.at("inverse")));
    }
  }
  return inverses;
}

std::optional<HistoryRow> load_row(Database& database, Revision revision) {
  Using row = database.use("SELECT at, who, why, undoes, edits FROM history WHERE revision = ?1");
  row->bind(1, revision);
  if (!row->step()) return std::nullopt;
  HistoryRow result;
  result.entry.revision = revision;
  result.entry.at = row->whole(0);
  result.entry.who = row->text(1);
  result.entry.why = row->text(2);
  result.entry.undoes = row->maybe_whole(3);
  for (const Document& edit : kept_edits(database, row->text(4))) {
    const std::string name = edit.at("document").get<std::string>();
    result.entry.edits.push_back({name, edit.at("patch")});
    result.inverse.push_back({name, edit.at("inverse")});
  }
  return result;
}

}  // namespace gp
