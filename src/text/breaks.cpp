#include "text/breaks.h"

#include "base/errors.h"

#include <unicode/brkiter.h>
#include <unicode/locid.h>
#include <unicode/unistr.h>

namespace gp {

struct Breaks::Iterators {
  std::unique_ptr<icu::BreakIterator> lines, characters;
};

namespace {

std::vector<std::size_t> ends(icu::BreakIterator& iterator, std::u16string_view text) {
  std::vector<std::size_t> found;
  // Aliases the caller's buffer: the iterator is not asked again after this function.
  const icu::UnicodeString alias(
      false, icu::ConstChar16Ptr(text.data()), static_cast<std::int32_t>(text.size()));
  iterator.setText(alias);
  iterator.first();
  for (std::int32_t at = iterator.next(); at != icu::BreakIterator::DONE; at = iterator.next()) {
    found.push_back(static_cast<std::size_t>(at));
  }
  return found;
}

}  // namespace

Breaks::Breaks(const std::string& language) : iterators_(std::make_unique<Iterators>()) {
  UErrorCode status = U_ZERO_ERROR;
  icu::Locale locale = icu::Locale::forLanguageTag(language, status);
  if (U_FAILURE(status) != 0) locale = icu::Locale::getRoot();
  status = U_ZERO_ERROR;
  iterators_->lines.reset(icu::BreakIterator::createLineInstance(locale, status));
  iterators_->characters.reset(icu::BreakIterator::createCharacterInstance(locale, status));
  if (U_FAILURE(status) != 0) throw InternalError("ICU has no rules for breaking lines");
}

Breaks::~Breaks() = default;

std::vector<std::size_t> Breaks::lines(std::u16string_view text) {
  return ends(*iterators_->lines, text);
}

std::vector<std::size_t> Breaks::characters(std::u16string_view text) {
  return ends(*iterators_->characters, text);
}

}  // namespace gp
