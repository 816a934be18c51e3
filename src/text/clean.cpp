#include "text/clean.h"

#include "base/errors.h"

#include <unicode/normalizer2.h>
#include <unicode/uchar.h>
#include <unicode/unistr.h>

namespace gp {
namespace {

icu::UnicodeString from_utf8(std::string_view utf8) {
  return icu::UnicodeString::fromUTF8(
      icu::StringPiece(utf8.data(), static_cast<std::int32_t>(utf8.size())));
}

std::u16string plain(const icu::UnicodeString& text) {
  return {text.getBuffer(), static_cast<std::size_t>(text.length())};
}

constexpr char16_t kFirstStrongIsolate = 0x2068;
constexpr char16_t kPopIsolate = 0x2069;
constexpr UChar32 kReplacement = 0xFFFD;

}  // namespace

std::u16string clean(std::string_view utf8) {
  UErrorCode status = U_ZERO_ERROR;
  const icu::Normalizer2* nfc = icu::Normalizer2::getNFCInstance(status);
  if (U_FAILURE(status) != 0) throw InternalError("ICU has no NFC data");
  const icu::UnicodeString raw = from_utf8(utf8);
  icu::UnicodeString kept;
  for (std::int32_t at = 0; at < raw.length(); at = raw.moveIndex32(at, 1)) {
    const UChar32 character = raw.char32At(at);
    if (steers_direction(static_cast<char32_t>(character))) continue;
    const bool blank = character == '\t' || character == '\n' || character == '\r' ||
                       character == 0x0B || character == 0x0C || character == 0x85 ||
                       character == 0x2028 || character == 0x2029;
    if (blank) {
      kept.append(static_cast<UChar32>(' '));
    } else if (u_iscntrl(character) != 0 && u_charType(character) == U_CONTROL_CHAR) {
      kept.append(kReplacement);
    } else {
      kept.append((character >= 0xD800 && character <= 0xDFFF) ? kReplacement : character);
    }
  }
  const icu::UnicodeString composed = nfc->normalize(kept, status);
  if (U_FAILURE(status) != 0) throw InternalError("ICU could not compose a text");
  return plain(composed);
}

std::u16string isolated(std::string_view utf8) {
  std::u16string text = clean(utf8);
  if (text.empty()) return text;
  return kFirstStrongIsolate + text + kPopIsolate;
}

std::string without_isolates(std::string_view utf8) {
  std::u16string text = to_utf16(utf8);
  std::erase_if(text,
                [](char16_t unit) { return unit == kFirstStrongIsolate || unit == kPopIsolate; });
  return to_utf8(text);
}

std::u16string to_utf16(std::string_view utf8) {
  return plain(from_utf8(utf8));
}

std::u16string to_utf16(char32_t character) {
  return plain(icu::UnicodeString(static_cast<UChar32>(character)));
}

std::string to_utf8(std::u16string_view text) {
  std::string out;
  icu::UnicodeString(text.data(), static_cast<std::int32_t>(text.size())).toUTF8String(out);
  return out;
}

std::string describe_character(char32_t character) {
  std::string out;
  const auto code = static_cast<UChar32>(character);
  if (u_isprint(code) != 0) {
    out += "“";
    icu::UnicodeString(code).toUTF8String(out);
    out += "” ";
  }
  constexpr char kDigits[] = "0123456789ABCDEF";
  out += "(U+";
  for (int shift = character > 0xFFFF ? 20 : 12; shift >= 0; shift -= 4) {
    const std::uint32_t digit = (static_cast<std::uint32_t>(character) >> shift) & 0xFU;
    if (shift > 16 && digit == 0) continue;
    out += kDigits[digit];
  }
  UErrorCode status = U_ZERO_ERROR;
  char name[128] = {};
  const std::int32_t length = u_charName(code, U_EXTENDED_CHAR_NAME, name, sizeof name, &status);
  if (U_SUCCESS(status) != 0 && length > 0) out += std::string(" ") + name;
  return out + ")";
}

Character character_at(std::u16string_view text, std::size_t at) {
  const char16_t lead = text[at];
  if (U16_IS_LEAD(lead) && at + 1 < text.size() && U16_IS_TRAIL(text[at + 1])) {
    return {static_cast<char32_t>(U16_GET_SUPPLEMENTARY(lead, text[at + 1])), 2};
  }
  return {static_cast<char32_t>(lead), 1};
}

bool is_unseen(char32_t character) {
  return u_hasBinaryProperty(static_cast<UChar32>(character), UCHAR_DEFAULT_IGNORABLE_CODE_POINT) !=
         0;
}

bool steers_direction(char32_t character) {
  return (character >= 0x202A && character <= 0x202E) ||
         (character >= 0x2066 && character <= 0x2069);
}

}  // namespace gp
