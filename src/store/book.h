#pragma once

#include "base/fault.h"
#include "model/production.h"
#include "store/document.h"
#include "store/sign_up.h"

#include <chrono>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace gp {

/// Rises by one with every change kept; 1 is the book's beginning.
using Revision = std::int64_t;

/// A JSON Patch (RFC 6902) on one of the book's documents: "production", "settings" (see
/// settings.h) or "sign-up/ID". A document that is not there yet begins as null, so
/// `[{"op":"add","path":"","value":{…}}]` makes it; a patch that leaves null takes it away.
struct Edit {
  std::string document;
  Document patch;
};

/// One change, kept whole or not at all.
struct Change {
  std::vector<Edit> edits;
  std::string who;  ///< "organiser", "command", or the sign-up's id: never a name
  std::string why;  ///< a few words for the history; never private data
  UnixTime at = 0;
  /// The revision its writer had before them. Where others changed the same documents since, the
  /// change is merged if it touches nothing they touched. None: the newest.
  std::optional<Revision> seen;
  std::optional<Revision> undoes;  ///< set by undo() and redo()
};

/// A place that both sides changed. Values are null where the side has none.
struct Collision {
  std::string document;
  std::string path;  ///< for people: `people[noor].free`
  Document before, theirs, mine;
};

/// Why a change was not kept; the book is as it was.
struct Refusal {
  std::vector<Fault> faults;  ///< the patch does not apply, or its result is no right document
  std::vector<Collision> collisions;
};

struct Kept {
  Revision revision = 0;
  bool merged = false;  ///< others had changed the documents since `seen`
};

/// One entry of the history, newest last.
struct HistoryEntry {
  Revision revision = 0;
  UnixTime at = 0;
  std::string who, why;
  std::vector<Edit> edits;  ///< as kept (after merging)
  std::optional<Revision> undoes;
};

/// A plan as it was made. Never changed, only followed by a newer one.
struct KeptPlan {
  std::int64_t number = 0;     ///< 1, 2, …
  Revision made_from = 0;      ///< of the book
  std::string production_sha;  ///< of the exported production's bytes
  UnixTime at = 0;
  std::string json;  ///< docs/plan-format.md
};

/// A call that was sent or shown to its person: a promise.
struct Told {
  std::string person;     ///< id in the production
  std::string day;        ///< ISO 8601
  std::string call;       ///< as shown, "07:40"; empty: not needed that day
  std::int64_t plan = 0;  ///< number
  std::string how;        ///< "page", "slip", …
  UnixTime at = 0;
  bool operator==(const Told&) const = default;
};

/// All there is to read at one revision. Never changes; may be kept and used in any thread.
struct BookState {
  Revision revision = 0;
  std::shared_ptr<const Document> production_document;  ///< as written; never null
  std::shared_ptr<const Production> production;         ///< never null
  Document settings;
  std::shared_ptr<const void> settings_mark;  ///< another one after each change of the settings
  std::vector<std::shared_ptr<const SignUp>> sign_ups;  ///< by sent_at, then id
  std::shared_ptr<const KeptPlan> plan;                 ///< newest; null: none yet

  /// Null where there is none. Cost: O(n).
  [[nodiscard]] std::shared_ptr<const SignUp> sign_up(std::string_view id) const;
  [[nodiscard]] std::shared_ptr<const SignUp> sign_up_of_person(std::string_view person) const;
};

/// A book on disk. WAL with full sync: what was acknowledged survives a killed process and a power
/// cut. Several processes may have it open; each sees the others' changes.
/// Threads: every member may be called from any thread.
class Book {
 public:
  /// Makes a new book of a production file (mode 0600). The document is kept as written.
  /// \return every fault of the file; empty: made
  /// \throws WorldError  something stands there already, or it cannot be written
  static std::vector<Fault> make(const std::string& path, std::string_view production, UnixTime at);
  /// Whether the file's first bytes say that it is an SQLite database (not: a right book).
  static bool looks_like_book(std::string_view first_bytes);

  /// \throws WorldError  not there, no book, of a newer version, damaged, locked, not readable:
  /// each with what to do. A read-only file opens; changes are then refused with a WorldError.
  /// \param patience  how long to wait for a lock of another process
  explicit Book(const std::string& path,
                std::chrono::milliseconds patience = std::chrono::seconds(5));
  ~Book();
  Book(const Book&) = delete;
  Book& operator=(const Book&) = delete;

  /// The newest state, also where another process changed the file. Cheap while nothing changed.
  [[nodiscard]] std::shared_ptr<const BookState> state();
  /// The documents as they were. \throws WorldError  there is no such revision
  [[nodiscard]] std::shared_ptr<const BookState> state_at(Revision revision);

  /// Keeps a change. Returns when it lies safely on the disk; several threads' changes share one
  /// commit. \throws WorldError  the disk is full, the book locked for long or read-only
  std::variant<Kept, Refusal> change(Change change);
  /// A new sign-up, by a key that its form carries: the same key again keeps nothing and gives the
  /// first one's id back, so a form sent twice makes one person.
  /// \param link  the secret of the personal link; only its hash is kept
  /// Where the day is full (Settings::most_people), a fresh one is kept as waiting: counted and
  /// kept in one step, so that two people never get the same last place.
  struct Entered {
    std::string id;      ///< the sign-up's, or a new one where it has none or it is taken
    bool again = false;  ///< it was there already
    SignUpState state = SignUpState::fresh;  ///< as kept
  };
  std::variant<Entered, Refusal> enter(SignUp sign_up,
                                       const std::string& form_key,
                                       const std::string& link,
                                       UnixTime at);

  /// Takes back the newest change not yet undone; redo takes the newest undo back. Merged as any
  /// change. None: there is nothing.
  /// \param who  whose; empty: the organiser's and the commands', never a friend's own answers
  ///             (those are taken back by their revision). The new entry is `who`'s.
  std::optional<std::variant<Kept, Refusal>> undo(const std::string& who, UnixTime at);
  std::optional<std::variant<Kept, Refusal>> redo(const std::string& who, UnixTime at);
  /// Takes back one change in the middle.
  std::variant<Kept, Refusal> undo_revision(Revision revision, const std::string& who, UnixTime at);
  /// Newest last, from `after` on (0: all), at most `most`.
  [[nodiscard]] std::vector<HistoryEntry> history(Revision after, std::size_t most = 1000);
  /// The revision the book had at a moment: for "what changed since Friday".
  [[nodiscard]] Revision revision_at(UnixTime at);

  /// Links are kept as SHA-256 of their secret (at least 128 random bits, base64url).
  void add_link(const std::string& sign_up, const std::string& link, UnixTime at);
  void revoke_links(const std::string& sign_up, UnixTime at);
  /// The sign-up a secret opens; none: wrong or revoked, not told apart.
  [[nodiscard]] std::optional<std::string> opened_by(std::string_view link);

  std::int64_t keep_plan(KeptPlan plan);  ///< \return its number
  [[nodiscard]] std::optional<KeptPlan> plan(std::int64_t number);
  void tell(const std::vector<Told>& told);  ///< what is there already is not kept again
  [[nodiscard]] std::vector<Told> told();    ///< oldest first

  /// Small secrets that are not part of the history: "passphrase" (its hash), "server-key",
  /// "door-code" (its hash).
  void set_secret(const std::string& name, const std::string& value);  ///< empty: taken away
  [[nodiscard]] std::string secret(const std::string& name);           ///< empty: none

  /// Called after every change kept by this process, on the thread that kept it; must be quick.
  void on_change(std::function<void(Revision)> tell);

 private:
  class Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace gp
