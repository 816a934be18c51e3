#include "text/dates.h"

#include "base/errors.h"

#include <chrono>
#include <map>
#include <memory>

#include <unicode/datefmt.h>
#include <unicode/locid.h>
#include <unicode/timezone.h>
#include <unicode/unistr.h>

namespace gp {
namespace {

std::string written(Date date, const std::string& language, const char* skeleton) {
  UErrorCode status = U_ZERO_ERROR;
  icu::Locale locale = icu::Locale::forLanguageTag(language, status);
  if (U_FAILURE(status) != 0) locale = icu::Locale::getRoot();
  status = U_ZERO_ERROR;
  const std::unique_ptr<icu::DateFormat> format(icu::DateFormat::createInstanceForSkeleton(
      icu::UnicodeString::fromUTF8(skeleton), locale, status));
  if (U_FAILURE(status) != 0 || !format) throw InternalError("ICU has no words for dates");
  format->adoptTimeZone(icu::TimeZone::getGMT()->clone());
  const auto days = std::chrono::sys_days(date).time_since_epoch();
  icu::UnicodeString text;
  format->format(std::chrono::duration<double, std::milli>(days).count(), text);
  std::string out;
  text.toUTF8String(out);
  return out;
}

}  // namespace

std::string long_date(Date date, const std::string& language) {
  return written(date, language, "yMMMMEEEEd");
}

std::string short_date(Date date, const std::string& language) {
  return written(date, language, "MMMMEd");
}

}  // namespace gp
