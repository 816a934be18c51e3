#pragma once

#include "base/fault.h"
#include "model/production.h"
#include "store/document.h"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

// What the book's documents are called and what may stand in them at all.

namespace gp {

inline constexpr const char* kProductionDocument = "production";
inline constexpr const char* kSettingsDocument = "settings";

/// "sign-up/ID"
std::string sign_up_document(std::string_view id);
/// The sign-up a document's name is of; empty where it is of none.
std::string_view sign_up_id(std::string_view document);
/// Whether the book may have a document of that name.
bool is_document_name(std::string_view document);

/// The document as JSON text, or why there is none: a text that is not UTF-8, too deep.
std::variant<std::string, Fault> text_of_document(const Document& document);
/// A member that is a text; empty: there is none.
std::string text_at(const Document& object, const char* key);
/// The texts of a member that is a list of them.
Tags words_at(const Document& object, const char* key);
/// Faults of a document, which has no lines and columns.
std::vector<Fault> without_places(std::vector<Fault> faults);

/// "2027-04-17 09:00-13:00" …, as productions and sign-ups have it.
Document write_free_times(const std::vector<FreeTime>& free);

}  // namespace gp
