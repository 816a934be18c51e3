#include "text/width.h"

#include "base/errors.h"
#include "base/utf8.h"
#include "text/clean.h"

#include <cstdint>
#include <memory>

#include <unicode/brkiter.h>
#include <unicode/uchar.h>
#include <unicode/unistr.h>
#include <unicode/utext.h>
#include <unicode/utf8.h>

namespace gp {
namespace {

constexpr char32_t kReplacement = 0xFFFD;

/// The next character of the text; moves `at` behind it.
UChar32 next_character(std::string_view text, std::size_t& at) {
  const CodePoint character = decode_utf8(text, at);
  at += character.bytes == 0 ? 1 : character.bytes;
  return static_cast<UChar32>(character.bytes == 0 ? kReplacement : character.value);
}

std::size_t cells_of(UChar32 character) {
  switch (u_charType(character)) {
    case U_NON_SPACING_MARK:
    case U_ENCLOSING_MARK:
    case U_FORMAT_CHAR:
      // terminals draw the soft hyphen, and signs written around the digits that follow (U+0600 …)
      return character == 0xAD ||
                     u_hasBinaryProperty(character, UCHAR_PREPENDED_CONCATENATION_MARK) != 0
                 ? 1
                 : 0;
    case U_CONTROL_CHAR:
      return 0;
    default:
      break;
  }
  // medial vowels and final consonants of Hangul join the syllable before them
  if (character >= 0x1160 && character <= 0x11FF) return 0;
  if (character >= 0xD7B0 && character <= 0xD7FF) return 0;
  const int width = u_getIntPropertyValue(character, UCHAR_EAST_ASIAN_WIDTH);
  return width == U_EA_WIDE || width == U_EA_FULLWIDTH ? 2 : 1;
}

}  // namespace

std::size_t cells(std::string_view text) {
  std::size_t total = 0;
  for (std::size_t at = 0; at < text.size();) total += cells_of(next_character(text, at));
  return total;
}

std::string cut_to(std::string_view text, std::size_t most) {
  if (cells(text) <= most) return std::string(text);
  if (most == 0) return "";
  UErrorCode status = U_ZERO_ERROR;
  const std::unique_ptr<icu::BreakIterator> characters(
      icu::BreakIterator::createCharacterInstance(icu::Locale::getRoot(), status));
  const std::unique_ptr<UText, decltype(&utext_close)> bytes(
      utext_openUTF8(nullptr, text.data(), static_cast<std::int64_t>(text.size()), &status),
      &utext_close);
  if (U_FAILURE(status) != 0) throw InternalError("ICU gives no character breaks");
  characters->setText(bytes.get(), status);
  std::size_t used = 0;
  std::size_t kept = 0;
  for (std::int32_t from = characters->first(), until = characters->next();
       until != icu::BreakIterator::DONE;
       from = until, until = characters->next()) {
    const auto start = static_cast<std::size_t>(from);
    const std::size_t width = cells(text.substr(start, static_cast<std::size_t>(until) - start));
    if (used + width > most - 1) break;
    used += width;
    kept = static_cast<std::size_t>(until);
  }
  return std::string(text.substr(0, kept)) + "…";
}

std::string harmless(std::string_view text) {
  return to_utf8(clean(text));
}

}  // namespace gp
