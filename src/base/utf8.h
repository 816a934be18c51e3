#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace gp {

/// One character (code point) of a UTF-8 text.
struct CodePoint {
  char32_t value = 0;
  std::size_t bytes = 0;  ///< 1 .. 4; 0: the bytes there are not UTF-8
};

/// The character that begins at `offset` (which must lie inside the text). Strict: no overlong
/// forms, no surrogates, nothing above U+10FFFF.
/// Source: The Unicode Standard 15.0, table 3-7, well-formed UTF-8 byte sequences.
CodePoint decode_utf8(std::string_view text, std::size_t offset);

/// \param value  a Unicode scalar value; anything else is written as U+FFFD
void append_utf8(std::string& text, char32_t value);

/// Characters in a text; a byte that is not UTF-8 counts as one.
std::size_t count_characters(std::string_view text);

/// The text if it has at most `most` characters, else its beginning with "…" as the last one.
std::string shortened(std::string_view text, std::size_t most);

/// The characters of a text; a byte that is not UTF-8 becomes U+FFFD.
std::u32string characters(std::string_view text);

}  // namespace gp
