#include "text/decode.h"

#include "base/utf8.h"

#include <algorithm>
#include <cstdint>
#include <memory>

#include <unicode/ucnv.h>
#include <unicode/ucsdet.h>
#include <unicode/unistr.h>

namespace gp {
namespace {

struct CloseConverter {
  void operator()(UConverter* converter) const { ucnv_close(converter); }
};
struct CloseDetector {
  void operator()(UCharsetDetector* detector) const { ucsdet_close(detector); }
};

/// Reads UTF-8 strictly; what is none becomes U+FFFD.
DecodedText from_utf8(std::string_view bytes) {
  DecodedText out{{}, "UTF-8", false, 0, 0};
  out.text.reserve(bytes.size());
  for (std::size_t at = 0; at < bytes.size();) {
    const CodePoint point = decode_utf8(bytes, at);
    if (point.bytes == 0) {
      append_utf8(out.text, 0xFFFD);
      ++out.broken;
      ++at;
    } else {
      out.text.append(bytes.substr(at, point.bytes));
      at += point.bytes;
    }
  }
  return out;
}

std::optional<DecodedText> through_icu(std::string_view bytes, const std::string& encoding) {
  UErrorCode status = U_ZERO_ERROR;
  const std::unique_ptr<UConverter, CloseConverter> converter(ucnv_open(encoding.c_str(), &status));
  if (U_FAILURE(status) != 0 || !converter) return std::nullopt;
  const icu::UnicodeString read(
      bytes.data(), static_cast<std::int32_t>(bytes.size()), converter.get(), status);
  if (U_FAILURE(status) != 0) return std::nullopt;
  DecodedText out;
  read.toUTF8String(out.text);
  out.encoding = encoding;
  constexpr std::string_view kReplacement = "\xEF\xBF\xBD";
  for (std::size_t at = out.text.find(kReplacement); at != std::string::npos;
       at = out.text.find(kReplacement, at + kReplacement.size())) {
    ++out.broken;
  }
  // a mark that a named encoding leaves at the beginning is none of the text
  constexpr std::string_view kMark = "\xEF\xBB\xBF";
  if (out.text.starts_with(kMark)) out.text.erase(0, kMark.size());
  return out;
}

/// What a byte order mark says; UTF-32 first, whose mark begins as UTF-16's does.
const char* marked_as(std::string_view bytes) {
  using namespace std::string_view_literals;
  if (bytes.starts_with("\xFF\xFE\0\0"sv)) return "UTF-32LE";
  if (bytes.starts_with("\0\0\xFE\xFF"sv)) return "UTF-32BE";
  if (bytes.starts_with("\xFF\xFE"sv)) return "UTF-16LE";
  if (bytes.starts_with("\xFE\xFF"sv)) return "UTF-16BE";
  if (bytes.starts_with("\xEF\xBB\xBF"sv)) return "UTF-8";
  return nullptr;
}

/// Zero bytes stand at every other place where Latin letters, line ends and separators are written
/// as UTF-16. Null: there are none, or on both sides, as in no text.
const char* zeros_say(std::string_view bytes) {
  if (bytes.size() % 2 != 0) return nullptr;
  std::size_t even = 0;
  std::size_t odd = 0;
  for (std::size_t at = 0; at + 1 < bytes.size(); at += 2) {
    even += bytes[at] == '\0' ? 1U : 0U;
    odd += bytes[at + 1] == '\0' ? 1U : 0U;
  }
  if (odd > 8 * even) return "UTF-16LE";
  if (even > 8 * odd) return "UTF-16BE";
  return nullptr;
}

/// ICU's detector reckons with frequencies of letters, so it needs enough of them.
std::string detected(std::string_view bytes) {
  constexpr std::size_t kEnough = 256 * 1024;
  constexpr std::int32_t kSure = 60;  // per cent; below, lists of names were seen guessed as Big5
  std::string letters;                // what is not ASCII, with the words it stands in
  for (std::size_t at = 0; at < bytes.size() && letters.size() < kEnough; ++at) {
    letters += bytes[at];
  }
  UErrorCode status = U_ZERO_ERROR;
  const std::unique_ptr<UCharsetDetector, CloseDetector> detector(ucsdet_open(&status));
  ucsdet_setText(
      detector.get(), letters.data(), static_cast<std::int32_t>(letters.size()), &status);
  const UCharsetMatch* const match = ucsdet_detect(detector.get(), &status);
  if (U_FAILURE(status) == 0 && match != nullptr) {
    const std::int32_t confidence = ucsdet_getConfidence(match, &status);
    const char* const name = ucsdet_getName(match, &status);
    // windows-1252 is ISO-8859-1 with letters where the latter has controls nobody writes
    if (U_FAILURE(status) == 0 && confidence >= kSure && std::string_view(name) != "ISO-8859-1") {
      return name;
    }
  }
  return "windows-1252";
}

}  // namespace

bool is_utf8(std::string_view bytes) {
  for (std::size_t at = 0; at < bytes.size();) {
    const std::size_t length = decode_utf8(bytes, at).bytes;
    if (length == 0) return false;
    at += length;
  }
  return true;
}

std::optional<DecodedText> decode_text(std::string_view bytes, const std::string& encoding) {
  std::optional<DecodedText> out;
  const char* const mark = marked_as(bytes);
  if (!encoding.empty()) {
    out = through_icu(bytes, encoding);
    if (!out) return std::nullopt;
  } else if (mark != nullptr && std::string_view(mark) == "UTF-8") {
    out = from_utf8(bytes.substr(3));
  } else if (mark != nullptr) {
    out = through_icu(bytes, mark);
  } else if (bytes.find('\0') != std::string_view::npos && zeros_say(bytes) != nullptr) {
    out = through_icu(bytes, zeros_say(bytes));
    if (out) out->guessed = true;
  } else if (is_utf8(bytes)) {
    out = from_utf8(bytes);
  } else {
    out = through_icu(bytes, detected(bytes));
    if (out) out->guessed = true;
  }
  if (!out) out = from_utf8(bytes);
  out->zeros = static_cast<std::size_t>(std::count(out->text.begin(), out->text.end(), '\0'));
  return out;
}

}  // namespace gp
