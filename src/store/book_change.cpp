#include "base/errors.h"
#include "base/sha256.h"
#include "store/book_inside.h"
#include "store/change_work.h"
#include "store/documents.h"
#include "store/settings.h"

#include <algorithm>
#include <array>
#include <memory>
#include <optional>
#include <utility>

#include <sys/random.h>

namespace gp {
namespace {

void insert_history(Database& database,
                    Revision revision,
                    const Change& change,
                    const std::string& documents,
                    const std::string& edits) {
  Using row = database.use(
      "INSERT INTO history (revision, at, who, why, undoes, documents, edits) "
      "VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)");
  row->bind(1, revision).bind(2, change.at).bind(3, change.who).bind(4, change.why);
  row->bind(5, change.undoes).bind(6, documents).bind(7, edits);
  row->run();
}

void store(BookDraft& draft, const Change& change, const WorkedOut& work) {
  for (const ChangedDocument& changed : work.documents) {
    Using row =
        changed.gone
            ? draft.database.use("DELETE FROM documents WHERE name = ?1")
            : draft.database.use("INSERT OR REPLACE INTO documents (name, value) VALUES (?1, ?2)");
    row->bind(1, changed.name);
    if (!changed.gone) row->bind(2, changed.text);
    row->run();
  }
  BookState& head = draft.state.head;
  ++head.revision;
  for (const ChangedDocument& changed : work.documents) {
    if (changed.name == kProductionDocument) {
      head.production_document = changed.document;
      head.production = changed.production;
    } else if (changed.name == kSettingsDocument) {
      head.settings = changed.gone ? Document() : *changed.document;
      head.settings_mark = changed.document;
    } else {
      draft.state.put({std::string(sign_up_id(changed.name)), changed.sign_up, false});
    }
  }
  draft.changed = true;
  insert_history(draft.database,
                 head.revision,
                 change,
                 document_names(work.documents),
                 edits_text(work.documents));
}

/// A short name for addresses, [a-z0-9]{10}: 50 bits are enough where names are checked for
/// doubles.
std::string random_id() {
  constexpr std::string_view kLetters = "abcdefghijkmnpqrstuvwxyz23456789";  // 32, none alike
  std::array<unsigned char, 10> bytes{};
  if (::getrandom(bytes.data(), bytes.size(), 0) != static_cast<ssize_t>(bytes.size())) {
    throw WorldError("cannot draw a random name; try again: the system gives no random bytes");
  }
  std::string id;
  for (const unsigned char byte : bytes) id += kLetters[byte % kLetters.size()];
  return id;
}

bool has_document(Database& database, const std::string& name) {
  Using row = database.use("SELECT 1 FROM documents WHERE name = ?1");
  row->bind(1, name);
  return row->step();
}

/// A new sign-up and its document's text, checked.
struct NewSignUp {
  SignUp sign_up;
  std::string text;
};

std::variant<NewSignUp, Refusal> checked(SignUp sign_up) {
  const Document document = write_sign_up(sign_up);
  auto read = read_sign_up(document);
  if (auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    return Refusal{std::move(*faults), {}};
  }
  return NewSignUp{std::get<SignUp>(std::move(read)), document.dump()};
}

void enter_new(BookDraft& draft,
               const NewSignUp& entry,
               const std::string& key_hash,
               const std::string& link,
               UnixTime at) {
  const std::string name = sign_up_document(entry.sign_up.id);
  {
    Using row = draft.database.use("INSERT INTO documents (name, value) VALUES (?1, ?2)");
    row->bind(1, name).bind(2, entry.text);
    row->run();
  }
  if (!key_hash.empty()) {
    Using row = draft.database.use("INSERT INTO form_keys (key, sign_up) VALUES (?1, ?2)");
    row->bind(1, key_hash).bind(2, entry.sign_up.id);
    row->run();
  }
  if (!link.empty()) {
    const std::string hash = link_hash(link);
    Using row = draft.database.use(
        "INSERT INTO links (hash, sign_up, at, revoked) VALUES (?1, ?2, ?3, NULL)");
    row->bind(1, hash).bind(2, entry.sign_up.id).bind(3, at);
    row->run();
  }
  ++draft.state.head.revision;
  draft.state.put({entry.sign_up.id, std::make_shared<const SignUp>(entry.sign_up), true});
  draft.changed = true;
  Change change;
  change.who = entry.sign_up.id;
  change.why = "signed up";
  change.at = at;
  // as edits_text() would write it; the document's text is there already
  insert_history(draft.database,
                 draft.state.head.revision,
                 change,
                 name + "\n",
                 "[{\"document\":\"" + name +
                     "\",\"patch\":[{\"op\":\"add\",\"path\":\"\",\"value\":" + entry.text +
                     "}],\"inverse\":[{\"op\":\"replace\",\"path\":\"\",\"value\":null}]}]");
}

}  // namespace

std::variant<Kept, Refusal> Book::Inside::change(const Change& change) {
  // worked out before the queue is asked, so that nobody waits while a large production is checked;
  // it nearly always still holds when its turn comes
  const auto before = state();
  const auto first = work_out(
      *before,
      [this](const std::string& document, Revision after, Revision until) {
        return inverses(document, after, until);
      },
      change);
  std::variant<Kept, Refusal> result;
  bool kept = false;
  write([&](BookDraft& draft) {
    kept = false;
    const auto now = draft.state.whole();
    const std::variant<WorkedOut, Refusal>* work = &first;
    std::optional<std::variant<WorkedOut, Refusal>> again;
    if (!still_holds(first, *before, *now)) {
      again = work_out(
          *now,
          [&](const std::string& document, Revision after, Revision until) {
            return load_inverses(draft.database, document, after, until);
          },
          change);
      work = &*again;
    }
    if (const auto* refusal = std::get_if<Refusal>(work)) {
      result = *refusal;
      return;
    }
    const auto& done = std::get<WorkedOut>(*work);
    kept = !done.documents.empty();
    if (kept) store(draft, change, done);
    result = Kept{draft.state.head.revision, done.merged};
  });
  if (kept) tell(std::get<Kept>(result).revision);
  return result;
}

std::variant<Book::Entered, Refusal> Book::Inside::enter(SignUp sign_up,
                                                         const std::string& form_key,
                                                         const std::string& link,
                                                         UnixTime at) {
  if (sign_up.id.empty()) sign_up.id = random_id();
  sign_up.sent_at = at;
  sign_up.changed_at = at;
  auto made = checked(std::move(sign_up));
  if (auto* refusal = std::get_if<Refusal>(&made)) return std::move(*refusal);
  const auto& right = std::get<NewSignUp>(made);
  const std::string key_hash = form_key.empty() ? std::string() : sha256(form_key);
  Entered result;
  Revision revision = 0;
  write([&](BookDraft& draft) {
    revision = 0;
    if (!key_hash.empty()) {
      Using row = draft.database.use("SELECT sign_up FROM form_keys WHERE key = ?1");
      row->bind(1, key_hash);
      if (row->step()) {
        const auto there = draft.state.sign_up(row->text(0));
        result = {row->text(0), true, there == nullptr ? SignUpState::withdrawn : there->state};
        return;
      }
    }
    const NewSignUp* entry = &right;
    NewSignUp other;
    const auto most = read_settings(draft.state.head.settings).most_people;
    const bool full =
        right.sign_up.state == SignUpState::fresh && most &&
        draft.state.heads() + 1 + right.sign_up.brings.size() > static_cast<std::size_t>(*most);
    const bool taken = has_document(draft.database, sign_up_document(right.sign_up.id));
    if (full || taken) {
      other.sign_up = right.sign_up;
      if (full) other.sign_up.state = SignUpState::waiting;
      while (has_document(draft.database, sign_up_document(other.sign_up.id))) {
        other.sign_up.id = random_id();
      }
      other.text = write_sign_up(other.sign_up).dump();
      entry = &other;
    }
    enter_new(draft, *entry, key_hash, link, at);
    result = {entry->sign_up.id, false, entry->sign_up.state};
    revision = draft.state.head.revision;
  });
  if (revision != 0) tell(revision);
  return result;
}

}  // namespace gp
