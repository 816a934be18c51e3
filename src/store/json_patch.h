#pragma once

#include "store/document.h"

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

// JSON Pointer (RFC 6901) and JSON Patch (RFC 6902) on documents that keep the order of their keys.
// Our own, because nlohmann's compares objects of such documents key by key in order, so that its
// "test" operation calls {"a":1,"b":2} and {"b":2,"a":1} different (RFC 6902 section 4.6 does not),
// and says little about what did not apply.

namespace gp {

/// A patch that is none, or that does not apply. `at` is the pointer of the operation.
class PatchError : public std::runtime_error {
 public:
  PatchError(std::string at, const std::string& text)
      : std::runtime_error(text), at_(std::move(at)) {}
  [[nodiscard]] const std::string& at() const { return at_; }

 private:
  std::string at_;
};

/// Whether two values are equal as RFC 6902 section 4.6 says: objects whatever the order of their
/// keys, numbers by their value. Cost: O(n) where keys stand in the same order.
bool same_json(const Document& a, const Document& b);

/// The pieces of a pointer, "~1" and "~0" undone. \throws PatchError  it is none
std::vector<std::string> pointer_pieces(std::string_view pointer);
/// One piece as it stands in a pointer.
std::string pointer_piece(std::string_view key);
/// The value a pointer leads to. \throws PatchError  there is none
const Document& pointed_at(const Document& document, std::string_view pointer);

/// The document after a patch; operations are applied in order, all or none.
/// \throws PatchError  the first that is wrong
Document patched(Document document, const Document& patch);

}  // namespace gp
