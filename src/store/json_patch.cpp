#include "store/json_patch.h"

#include <algorithm>
#include <charconv>
#include <utility>

namespace gp {
namespace {

/// An index into a list: digits alone, no sign, no nought before them (RFC 6901 section 4).
std::size_t index_of(const std::string& piece, const std::string& pointer) {
  std::size_t index = 0;
  const char* const end = piece.data() + piece.size();
  const bool digits = !piece.empty() && std::all_of(piece.begin(), piece.end(), [](char c) {
    return c >= '0' && c <= '9';
  });
  if (!digits || (piece.size() > 1 && piece.front() == '0') ||
      std::from_chars(piece.data(), end, index).ec != std::errc()) {
    throw PatchError(pointer, "\"" + piece + "\" is no index of a list");
  }
  return index;
}

Document& child(Document& parent, const std::string& piece, const std::string& pointer) {
  if (parent.is_object()) {
    const auto found = parent.find(piece);
    if (found == parent.end()) throw PatchError(pointer, "there is no \"" + piece + "\"");
    return *found;
  }
  if (parent.is_array()) {
    const std::size_t index = index_of(piece, pointer);
    if (index >= parent.size()) throw PatchError(pointer, "the list has no entry " + piece);
    return parent[index];
  }
  throw PatchError(pointer, "\"" + piece + "\" is asked of a value that holds nothing");
}

/// Where an operation works: the value that holds the place, and the place's name in it.
struct Place {
  Document* parent = nullptr;  ///< null: the whole document
  std::string piece;
};

Place place_of(Document& document, const std::string& pointer) {
  std::vector<std::string> pieces = pointer_pieces(pointer);
  if (pieces.empty()) return {};
  Place place{&document, std::move(pieces.back())};
  pieces.pop_back();
  for (const std::string& piece : pieces) place.parent = &child(*place.parent, piece, pointer);
  return place;
}

void add(Document& document, const std::string& pointer, Document value) {
  const Place place = place_of(document, pointer);
  if (place.parent == nullptr) {
    document = std::move(value);
  } else if (place.parent->is_object()) {
    (*place.parent)[place.piece] = std::move(value);
  } else if (place.parent->is_array()) {
    const std::size_t size = place.parent->size();
    const std::size_t index = place.piece == "-" ? size : index_of(place.piece, pointer);
    if (index > size) throw PatchError(pointer, "the list ends before entry " + place.piece);
    place.parent->insert(place.parent->begin() + static_cast<std::ptrdiff_t>(index),
                         std::move(value));
  } else {
    throw PatchError(pointer, "a value that holds nothing cannot be added to");
  }
}

/// Takes the value out. The whole document leaves null.
Document taken(Document& document, const std::string& pointer) {
  const Place place = place_of(document, pointer);
  if (place.parent == nullptr) return std::exchange(document, Document());
  Document value = std::move(child(*place.parent, place.piece, pointer));
  if (place.parent->is_object()) {
    place.parent->erase(place.piece);
  } else {
    place.parent->erase(place.parent->begin() +
                        static_cast<std::ptrdiff_t>(index_of(place.piece, pointer)));
  }
  return value;
}

void replace(Document& document, const std::string& pointer, Document value) {
  const Place place = place_of(document, pointer);
  Document& there = place.parent == nullptr ? document : child(*place.parent, place.piece, pointer);
  there = std::move(value);
}

const std::string& text_of(const Document& operation, const char* key) {
  const auto found = operation.find(key);
  if (found == operation.end() || !found->is_string()) {
    throw PatchError({}, std::string("an operation needs the text \"") + key + "\"");
  }
  return found->get_ref<const std::string&>();
}

const Document& value_of(const Document& operation, const std::string& pointer) {
  const auto found = operation.find("value");
  if (found == operation.end()) throw PatchError(pointer, "the operation needs a \"value\"");
  return *found;
}

void apply(Document& document, const Document& operation) {
  if (!operation.is_object()) throw PatchError({}, "an operation is an object");
  const std::string& name = text_of(operation, "op");
  const std::string& pointer = text_of(operation, "path");
  if (name == "add") {
    add(document, pointer, value_of(operation, pointer));
  } else if (name == "remove") {
    taken(document, pointer);
  } else if (name == "replace") {
    replace(document, pointer, value_of(operation, pointer));
  } else if (name == "move") {
    const std::string& from = text_of(operation, "from");
    // RFC 6902 section 4.4: a value cannot be moved into one of its own
    if (pointer.size() > from.size() && pointer.starts_with(from) && pointer[from.size()] == '/') {
      throw PatchError(pointer, "a value cannot be moved into itself");
    }
    Document value = taken(document, from);
    add(document, pointer, std::move(value));
  } else if (name == "copy") {
    add(document, pointer, pointed_at(document, text_of(operation, "from")));
  } else if (name == "test") {
    if (!same_json(pointed_at(document, pointer), value_of(operation, pointer))) {
      throw PatchError(pointer, "the value there is another one than the patch expects");
    }
  } else {
    throw PatchError(pointer, "there is no operation \"" + name + "\"");
  }
}

}  // namespace

bool same_json(const Document& a, const Document& b) {
  if (a.is_object() && b.is_object()) {
    if (a.size() != b.size()) return false;
    auto beside = b.begin();
    for (auto entry = a.begin(); entry != a.end(); ++entry, ++beside) {
      const auto other = beside.key() == entry.key() ? beside : b.find(entry.key());
      if (other == b.end() || !same_json(entry.value(), other.value())) return false;
    }
    return true;
  }
  if (a.is_array() && b.is_array()) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), same_json);
  }
  return a == b;
}

std::vector<std::string> pointer_pieces(std::string_view pointer) {
  std::vector<std::string> pieces;
  if (pointer.empty()) return pieces;
  if (pointer.front() != '/') {
    throw PatchError(std::string(pointer), "a path begins with \"/\" or is empty");
  }
  for (std::size_t at = 0; at < pointer.size(); ++at) {
    const char c = pointer[at];
    if (c == '/') {
      pieces.emplace_back();
    } else if (c == '~') {
      const char next = at + 1 < pointer.size() ? pointer[at + 1] : '\0';
      if (next != '0' && next != '1') {
        throw PatchError(std::string(pointer), "\"~\" stands in a path as \"~0\" alone");
      }
      pieces.back() += next == '0' ? '~' : '/';
      ++at;
    } else {
      pieces.back() += c;
    }
  }
  return pieces;
}

std::string pointer_piece(std::string_view key) {
  std::string piece;
  for (const char c : key) {
    if (c == '~') {
      piece += "~0";
    } else if (c == '/') {
      piece += "~1";
    } else {
      piece += c;
    }
  }
  return piece;
}

const Document& pointed_at(const Document& document, std::string_view pointer) {
  const std::string whole(pointer);
  // the same walk as for changes; nothing is changed on it
  auto* value = const_cast<Document*>(&document);  // NOLINT(cppcoreguidelines-pro-type-const-cast)
  for (const std::string& piece : pointer_pieces(pointer)) value = &child(*value, piece, whole);
  return *value;
}

Document patched(Document document, const Document& patch) {
  if (!patch.is_array()) throw PatchError({}, "a patch is a list of operations");
  for (const Document& operation : patch) apply(document, operation);
  return document;
}

}  // namespace gp
