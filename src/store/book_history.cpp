#include "base/errors.h"
#include "model/read_production.h"
#include "store/book_inside.h"
#include "store/change_work.h"
#include "store/documents.h"
#include "store/json_patch.h"

#include <algorithm>
#include <limits>
#include <map>
#include <set>
#include <utility>

namespace gp {
namespace {

/// What is needed of each row to say what can be taken back.
struct Step {
  Revision revision = 0;
  std::string who;
  std::optional<Revision> undoes;
};

std::vector<Step> steps_of(Database& database) {
  std::vector<Step> steps;
  Using row = database.use("SELECT revision, who, undoes FROM history ORDER BY revision");
  while (row->step()) steps.push_back({row->whole(0), row->text(1), row->maybe_whole(2)});
  return steps;
}

/// The newest row that can be undone, or, for redo, the newest undo that can be taken back. A row
/// is undone while a later one that takes it back is not undone itself. A change and the redo of
/// one are changes; what takes one of those back is an undo.
std::optional<Revision> newest_to_take_back(const std::vector<Step>& steps,
                                            const std::string& who,
                                            bool redo) {
  std::map<Revision, bool> is_undo;
  for (const Step& step : steps) {
    is_undo[step.revision] = step.undoes.has_value() && !is_undo[*step.undoes];
  }
  std::set<Revision> undone;
  for (auto step = steps.rbegin(); step != steps.rend(); ++step) {
    if (undone.contains(step->revision)) continue;
    if (step->undoes) undone.insert(*step->undoes);
    const bool whose =
        who.empty() ? step->who == "organiser" || step->who == "command" : step->who == who;
    constexpr Revision kBeginning = 1;
    if (whose && step->revision != kBeginning && is_undo[step->revision] == redo) {
      return step->revision;
    }
  }
  return std::nullopt;
}

/// "undo: X" of "X", and "redo: X" of that.
std::string why_back(const std::string& why) {
  constexpr std::string_view kUndo = "undo: ";
  constexpr std::string_view kRedo = "redo: ";
  if (why.starts_with(kUndo)) return std::string(kRedo) + why.substr(kUndo.size());
  if (why.starts_with(kRedo)) return std::string(kUndo) + why.substr(kRedo.size());
  return std::string(kUndo) + why;
}

/// Every document of a book, for going back through its history.
using Documents = std::map<std::string, Document>;

Documents all_documents(Database& database) {
  Documents documents;
  Using rows = database.use("SELECT name, value FROM documents");
  while (rows->step()) {
    documents[rows->text(0)] = kept_document(database, rows->text(1));
  }
  return documents;
}

/// \throws WorldError  the book has no such revision
Documents documents_at(Database& database, Revision revision) {
  Revision newest = 0;
  {
    Using row = database.use("SELECT max(revision) FROM history");
    row->step();
    newest = row->whole(0);
  }
  if (revision < 1 || revision > newest) {
    throw WorldError("the book " + database.path() + " has no revision " +
                     std::to_string(revision) + "; choose one from 1 to " + std::to_string(newest));
  }
  Documents documents = all_documents(database);
  for (Revision back = newest; back > revision; --back) {
    const auto row = load_row(database, back);
    if (!row) continue;
    for (auto edit = row->inverse.rbegin(); edit != row->inverse.rend(); ++edit) {
      Document& document = documents[edit->document];
      document = patched(std::move(document), edit->patch);
    }
  }
  return documents;
}

std::optional<KeptPlan> plan_at(Database& database, Revision revision) {
  Using row = database.use(
      "SELECT number, made_from, production_sha, at, json FROM plans WHERE made_from <= ?1 "
      "ORDER BY number DESC LIMIT 1");
  row->bind(1, revision);
  if (!row->step()) return std::nullopt;
  return KeptPlan{row->whole(0), row->whole(1), row->text(2), row->whole(3), row->text(4)};
}

template <class Value>
Value right(std::variant<Value, std::vector<Fault>> read, const std::string& name) {
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    throw WorldError("the book's history is damaged; go on with your newest whole copy: " + name +
                     " has a fault at " + faults->front().path);
  }
  return std::get<Value>(std::move(read));
}

}  // namespace

std::shared_ptr<const BookState> Book::state_at(Revision revision) {
  BookState state;
  state.revision = revision;
  std::optional<KeptPlan> plan;
  Documents documents = inside_->read([&](Database& database) {
    plan = plan_at(database, revision);
    return documents_at(database, revision);
  });
  if (plan) state.plan = std::make_shared<const KeptPlan>(std::move(*plan));
  for (auto& [name, document] : documents) {
    if (document.is_null()) continue;
    if (name == kProductionDocument) {
      state.production = std::make_shared<const Production>(
          right(read_production(document.dump(), PeopleListed::still_coming), name));
      state.production_document = std::make_shared<const Document>(std::move(document));
    } else if (name == kSettingsDocument) {
      state.settings = std::move(document);
    } else {
      insert_sign_up(state, std::make_shared<const SignUp>(right(read_sign_up(document), name)));
    }
  }
  return std::make_shared<const BookState>(std::move(state));
}

std::variant<Kept, Refusal> Book::undo_revision(Revision revision,
                                                const std::string& who,
                                                UnixTime at) {
  const auto row = inside_->read([&](Database& database) { return load_row(database, revision); });
  constexpr Revision kBeginning = 1;
  if (!row || revision == kBeginning) {
    return Refusal{
        {Fault{0,
               0,
               {},
               "revision " + std::to_string(revision),
               revision == kBeginning ? "a change after the book's beginning, which stays"
                                      : "a revision that the book has",
               {}}},
        {}};
  }
  Change change;
  change.edits = row->inverse;
  change.who = who;
  change.why = why_back(row->entry.why);
  change.at = at;
  change.seen = revision;
  change.undoes = revision;
  return inside_->change(change);
}

std::optional<std::variant<Kept, Refusal>> Book::undo(const std::string& who, UnixTime at) {
  const auto revision = newest_to_take_back(inside_->read(steps_of), who, false);
  if (!revision) return std::nullopt;
  return undo_revision(*revision, who.empty() ? "command" : who, at);
}

std::optional<std::variant<Kept, Refusal>> Book::redo(const std::string& who, UnixTime at) {
  const auto revision = newest_to_take_back(inside_->read(steps_of), who, true);
  if (!revision) return std::nullopt;
  return undo_revision(*revision, who.empty() ? "command" : who, at);
}

std::vector<HistoryEntry> Book::history(Revision after, std::size_t most) {
  return inside_->read([&](Database& database) {
    std::vector<Revision> revisions;
    {
      // the newest of them where there are too many
      Using rows = database.use(
          "SELECT revision FROM history WHERE revision > ?1 ORDER BY revision DESC LIMIT ?2");
      constexpr std::size_t kMost = std::numeric_limits<std::int32_t>::max();
      rows->bind(1, after).bind(2, static_cast<std::int64_t>(std::min(most, kMost)));
      while (rows->step()) revisions.push_back(rows->whole(0));
    }
    std::vector<HistoryEntry> entries;
    for (auto revision = revisions.rbegin(); revision != revisions.rend(); ++revision) {
      if (auto row = load_row(database, *revision)) entries.push_back(std::move(row->entry));
    }
    return entries;
  });
}

Revision Book::revision_at(UnixTime at) {
  return inside_->read([&](Database& database) {
    Using row = database.use("SELECT max(revision) FROM history WHERE at <= ?1");
    row->bind(1, at);
    constexpr Revision kBeginning = 1;
    return row->step() ? row->maybe_whole(0).value_or(kBeginning) : kBeginning;
  });
}

}  // namespace gp
