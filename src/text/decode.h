#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace gp {

/// A file's text with how it was written.
struct DecodedText {
  std::string text;        ///< UTF-8, without the byte order mark
  std::string encoding;    ///< "UTF-8", "UTF-16LE", "windows-1252" …
  bool guessed = false;    ///< nothing in the file says so: the reader may want to name another
  std::size_t broken = 0;  ///< characters that could not be read; U+FFFD stands there
  std::size_t zeros = 0;   ///< NUL characters: probably no text at all
};

/// The text of bytes that came from anywhere.
/// \param encoding  a name of the IANA registry or one that ICU knows ("latin1"); empty: a byte
///                  order mark says it, else zero bytes betray UTF-16, else it is UTF-8 where it
///                  can be, else ICU's detector is asked and, where it is not sure, windows-1252 is
///                  taken
/// \return none: nobody knows an encoding of that name
/// Cost: O(n); memory about four times the bytes.
/// Source: byte order marks: The Unicode Standard 15.0, section 23.8.
std::optional<DecodedText> decode_text(std::string_view bytes, const std::string& encoding = {});

/// Whether every byte belongs to a right UTF-8 character.
bool is_utf8(std::string_view bytes);

}  // namespace gp
