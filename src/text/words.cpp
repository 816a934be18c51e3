#include "text/words.h"

#include "base/errors.h"
#include "base/files.h"
#include "base/json.h"
#include "text/clean.h"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <utility>

#include <unicode/locid.h>
#include <unicode/msgfmt.h>
#include <unicode/unistr.h>

namespace gp {
namespace {

icu::UnicodeString from_utf8(std::string_view text) {
  return icu::UnicodeString::fromUTF8(
      icu::StringPiece(text.data(), static_cast<std::int32_t>(text.size())));
}

icu::Locale locale_of(const std::string& language) {
  UErrorCode status = U_ZERO_ERROR;
  const icu::Locale locale = icu::Locale::forLanguageTag(language, status);
  return U_FAILURE(status) != 0 ? icu::Locale::getRoot() : locale;
}

/// Letters, digits and hyphens only: a tag from a file must not become a path.
bool is_plain_tag(const std::string& tag) {
  return !tag.empty() && std::all_of(tag.begin(), tag.end(), [](unsigned char letter) {
    return std::isalnum(letter) != 0 || letter == '-';
  });
}

}  // namespace

struct Words::Sentences {
  std::map<std::string, std::string, std::less<>> written;
  mutable std::map<std::string, std::unique_ptr<icu::MessageFormat>, std::less<>> ready;
};

namespace {

[[noreturn]] void broken(const std::string& path, JsonPosition at, const std::string& what) {
  throw WorldError("cannot use the words in " + path + ": install the program again; line " +
                   std::to_string(at.line) + ", column " + std::to_string(at.column) + ": " + what);
}

void flatten(const std::string& path,
             const Json& value,
             const std::string& key,
             std::map<std::string, std::string, std::less<>>& out) {
  if (value.is(JsonKind::text)) {
    out[key] = value.text();
  } else if (value.is(JsonKind::object)) {
    for (const JsonMember& member : value.members()) {
      flatten(path, member.value, key.empty() ? member.key : key + "." + member.key, out);
    }
  } else {
    broken(path, value.at(), "a sentence is expected");
  }
}

}  // namespace

Words::Words(std::string path, std::string language, const Words* english)
    : path_(std::move(path)),
      language_(std::move(language)),
      english_(english),
      sentences_(std::make_unique<Sentences>()) {
  const std::string bytes = Disk().read(path_, kMostJsonBytes);
  const JsonRead read = read_json(bytes);
  if (!read.faults.empty() || !read.root) {
    const Fault fault = read.faults.empty() ? Fault{} : read.faults.front();
    throw WorldError("cannot use the words in " + path_ + ": install the program again; line " +
                     std::to_string(fault.line) + ": expected " + fault.expected);
  }
  flatten(path_, *read.root, "", sentences_->written);
}

Words::~Words() = default;

bool Words::has(std::string_view key) const {
  return sentences_->written.contains(key) || (english_ != nullptr && english_->has(key));
}

std::string Words::say(std::string_view key, const std::vector<WordValue>& values) const {
  const auto written = sentences_->written.find(key);
  if (written == sentences_->written.end()) {
    if (english_ != nullptr) return english_->say(key, values);
    throw InternalError("there are no words for “" + std::string(key) + "”");
  }
  auto ready = sentences_->ready.find(key);
  if (ready == sentences_->ready.end()) {
    UErrorCode status = U_ZERO_ERROR;
    auto format = std::make_unique<icu::MessageFormat>(
        from_utf8(written->second), locale_of(language_), status);
    if (U_FAILURE(status) != 0) {
      throw WorldError("cannot use the words in " + path_ + ": install the program again; “" +
                       std::string(key) + "” is no message: " + written->second);
    }
    ready = sentences_->ready.emplace(std::string(key), std::move(format)).first;
  }
  std::vector<icu::UnicodeString> names;
  std::vector<icu::Formattable> arguments;
  for (const WordValue& value : values) {
    names.push_back(from_utf8(value.name));
    if (const auto* text = std::get_if<std::string>(&value.value)) {
      const std::u16string kept = isolated(*text);
      arguments.emplace_back(
          icu::UnicodeString(kept.data(), static_cast<std::int32_t>(kept.size())));
    } else {
      arguments.emplace_back(std::get<std::int64_t>(value.value));
    }
  }
  icu::UnicodeString said;
  UErrorCode status = U_ZERO_ERROR;
  ready->second->format(
      names.data(), arguments.data(), static_cast<std::int32_t>(arguments.size()), said, status);
  if (U_FAILURE(status) != 0) {
    throw InternalError("“" + std::string(key) + "” could not be said: " + u_errorName(status));
  }
  std::string out;
  said.toUTF8String(out);
  return out;
}

WordBook::WordBook(std::string folder) : folder_(std::move(folder)) {
  std::error_code error;
  if (!std::filesystem::exists(folder_ + "/en.json", error)) {
    throw WorldError("cannot print: install the program again, or name the folder of its data; " +
                     folder_ + "/en.json is not there");
  }
  known_["en"].reset(new Words(folder_ + "/en.json", "en", nullptr));
}

WordBook::~WordBook() = default;

std::string WordBook::best(const std::string& language) const {
  if (!is_plain_tag(language)) return "";
  std::string tag = language;
  while (!tag.empty()) {
    std::error_code error;
    if (known_.contains(tag) || std::filesystem::exists(folder_ + "/" + tag + ".json", error)) {
      return tag;
    }
    const std::size_t hyphen = tag.rfind('-');
    tag = hyphen == std::string::npos ? "" : tag.substr(0, hyphen);
  }
  return "";
}

bool WordBook::speaks(const std::string& language) const {
  return !best(language).empty();
}

const Words& WordBook::in(const std::string& language) {
  const std::string tag = best(language);
  if (tag.empty()) return *known_["en"];
  auto& slot = known_[tag];
  if (!slot) slot.reset(new Words(folder_ + "/" + tag + ".json", tag, known_["en"].get()));
  return *slot;
}

}  // namespace gp
