#pragma once

#include "store/book.h"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

// What a change does to the documents, worked out without writing anything.

namespace gp {

/// Gives the inverse patches of the changes that touched a document, newest first: those after
/// `after`, up to and with `until`.
using InverseSource = std::function<std::vector<Document>(
    const std::string& document, Revision after, Revision until)>;

/// A document of a state; null: it is not there.
Document document_of(const BookState& state, const std::string& name);

/// What a document is in the state it was worked out from: as long as the newest state has the
/// same, the work holds.
using DocumentMark = std::shared_ptr<const void>;
/// \return null where the document is not there
DocumentMark mark_of(const BookState& state, const std::string& document);

/// One document after a change.
struct ChangedDocument {
  std::string name;
  DocumentMark mark;
  bool gone = false;
  std::string text;  ///< JSON; empty where gone
  Document patch, inverse;
  std::shared_ptr<const Document> document;      ///< of the production and the settings
  std::shared_ptr<const Production> production;  ///< of the production
  std::shared_ptr<const SignUp> sign_up;         ///< of a sign-up
};

struct WorkedOut {
  Revision made_at = 0;  ///< of the state
  bool merged = false;
  std::vector<ChangedDocument> documents;  ///< those that are really changed
};

/// A change against a state: patched, merged with what others did, and checked.
/// Cost: as reading the whole production, where it is touched; otherwise small.
std::variant<WorkedOut, Refusal> work_out(const BookState& state,
                                          const InverseSource& inverses,
                                          const Change& change);
/// Whether work done on another state holds on this one.
bool still_holds(const std::variant<WorkedOut, Refusal>& work,
                 const BookState& made_with,
                 const BookState& now);

/// Puts a sign-up that is not there yet into its place in the list.
void insert_sign_up(BookState& state, std::shared_ptr<const SignUp> sign_up);
void take_sign_up(BookState& state, std::string_view id);

/// The difference of two documents; null: not there.
Document patch_between(const Document& before, const Document& after);

/// The list of edits as the history keeps it.
std::string edits_text(const std::vector<ChangedDocument>& documents);
std::string document_names(const std::vector<ChangedDocument>& documents);

}  // namespace gp
