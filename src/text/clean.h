#pragma once

#include <string>
#include <string_view>

namespace gp {

/// Text as people wrote it, made ready to be set: bytes that are no UTF-8 become U+FFFD, letters
/// are composed (Unicode NFC, UAX #15), tabs and line ends become spaces, other control characters
/// become U+FFFD, and marks that steer direction (U+202A..E, U+2066..9) are left out: a name must
/// not turn round the sentence it stands in. Joiners and variation selectors stay.
std::u16string clean(std::string_view utf8);

/// The same between FSI and PDI, so that the text keeps its own direction inside any sentence
/// (UAX #9, isolates). Empty text stays empty.
std::u16string isolated(std::string_view utf8);

/// The text with the marks of isolated() taken out again, for a terminal or a log.
std::string without_isolates(std::string_view utf8);

std::u16string to_utf16(std::string_view utf8);
std::u16string to_utf16(char32_t character);
/// Lone surrogates become U+FFFD.
std::string to_utf8(std::u16string_view text);

/// For a message about one character, e.g. `“Ё” (U+0401 CYRILLIC CAPITAL LETTER IO)`.
std::string describe_character(char32_t character);

/// The code point that begins at `at`, and how many units it takes.
struct Character {
  char32_t value = 0;
  std::size_t units = 1;
};
Character character_at(std::u16string_view text, std::size_t at);

/// Characters that are never seen themselves, whether or not a font has them: joiners, variation
/// selectors, direction marks (Unicode property Default_Ignorable_Code_Point).
bool is_unseen(char32_t character);
/// Marks that steer direction and must not reach the shaper: U+202A..E and U+2066..9.
bool steers_direction(char32_t character);

}  // namespace gp
