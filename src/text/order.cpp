#include "text/order.h"

#include "base/errors.h"

#include <cstdint>
#include <vector>

#include <unicode/coll.h>
#include <unicode/locid.h>
#include <unicode/unistr.h>

namespace gp {

struct NameOrder::Rules {
  std::unique_ptr<icu::Collator> collator;
};

NameOrder::NameOrder(const std::string& language) : rules_(std::make_unique<Rules>()) {
  UErrorCode status = U_ZERO_ERROR;
  icu::Locale locale = icu::Locale::forLanguageTag(language, status);
  if (U_FAILURE(status) != 0) locale = icu::Locale::getRoot();
  status = U_ZERO_ERROR;
  rules_->collator.reset(icu::Collator::createInstance(locale, status));
  if (U_FAILURE(status) != 0) throw InternalError("ICU has no rules for sorting names");
  // Guard 2 before Guard 10.
  rules_->collator->setAttribute(UCOL_NUMERIC_COLLATION, UCOL_ON, status);
  rules_->collator->setAttribute(UCOL_NORMALIZATION_MODE, UCOL_ON, status);
}

NameOrder::~NameOrder() = default;

std::string NameOrder::key(std::string_view utf8) const {
  const icu::UnicodeString text = icu::UnicodeString::fromUTF8(
      icu::StringPiece(utf8.data(), static_cast<std::int32_t>(utf8.size())));
  std::vector<std::uint8_t> bytes(64);
  const std::int32_t needed =
      rules_->collator->getSortKey(text, bytes.data(), static_cast<std::int32_t>(bytes.size()));
  if (static_cast<std::size_t>(needed) > bytes.size()) {
    bytes.resize(static_cast<std::size_t>(needed));
    rules_->collator->getSortKey(text, bytes.data(), needed);
  }
  bytes.resize(static_cast<std::size_t>(needed));
  return {bytes.begin(), bytes.end()};
}

}  // namespace gp
