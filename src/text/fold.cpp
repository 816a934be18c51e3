#include "text/fold.h"

#include "base/errors.h"

#include <algorithm>
#include <cstdint>
#include <sstream>
#include <vector>

#include <unicode/normalizer2.h>
#include <unicode/translit.h>
#include <unicode/uchar.h>
#include <unicode/unistr.h>

namespace gp {

struct Folding::Rules {
  std::unique_ptr<icu::Transliterator> latin;
  const icu::Normalizer2* compatible = nullptr;
};

Folding::Folding() : rules_(std::make_unique<Rules>()) {
  UErrorCode status = U_ZERO_ERROR;
  rules_->latin.reset(icu::Transliterator::createInstance("Latin-ASCII", UTRANS_FORWARD, status));
  rules_->compatible = icu::Normalizer2::getNFKCCasefoldInstance(status);
  if (U_FAILURE(status) != 0) throw InternalError("ICU has no rules for folding names");
}

Folding::~Folding() = default;

std::string Folding::words(std::string_view utf8) const {
  const icu::UnicodeString text = icu::UnicodeString::fromUTF8(
      icu::StringPiece(utf8.data(), static_cast<std::int32_t>(utf8.size())));
  UErrorCode status = U_ZERO_ERROR;
  icu::UnicodeString folded = rules_->compatible->normalize(text, status);
  if (U_FAILURE(status) != 0) throw InternalError("ICU could not fold a text");
  bool plain = true;
  for (std::int32_t at = 0; at < folded.length(); ++at) plain = plain && folded[at] < 0x80;
  if (!plain) {
    rules_->latin->transliterate(folded);
    folded.foldCase();
  }
  icu::UnicodeString kept;
  bool gap = false;
  for (std::int32_t at = 0; at < folded.length(); at = folded.moveIndex32(at, 1)) {
    const UChar32 c = folded.char32At(at);
    if (c == '\'' || c == 0x2019 || c == 0x02BC) continue;  // O'Brien is one word
    const bool mark = (U_GET_GC_MASK(c) & U_GC_M_MASK) != 0;
    if (u_isalnum(c) == 0 && !mark) {
      gap = !kept.isEmpty();
      continue;
    }
    if (gap) kept.append(static_cast<UChar32>(' '));
    gap = false;
    kept.append(c);
  }
  std::string out;
  kept.toUTF8String(out);
  return out;
}

std::string Folding::name(std::string_view utf8) const {
  std::istringstream stream(words(utf8));
  std::vector<std::string> parts;
  for (std::string part; stream >> part;) {
    std::string one;
    for (const char c : part) {
      // ä, ö, ü have become a, o, u
      if (c == 'e' && !one.empty() &&
          (one.back() == 'a' || one.back() == 'o' || one.back() == 'u')) {
        continue;
      }
      one += c;
    }
    parts.push_back(std::move(one));
  }
  std::sort(parts.begin(), parts.end());
  std::string out;
  for (const std::string& part : parts) out += (out.empty() ? "" : " ") + part;
  return out;
}

}  // namespace gp
