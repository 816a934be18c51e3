#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace gp {

/// A value that a sentence has a place for: a text that people wrote, or a number.
struct WordValue {
  const char* name;
  std::variant<std::string, std::int64_t> value;
};

/// The words of one language: a key such as "day.first_shot" to a sentence of ICU's message format
/// (plurals as CLDR says). A key that the language lacks is said in English.
/// Threads: one at a time for each object.
class Words {
 public:
  ~Words();
  Words(const Words&) = delete;
  Words& operator=(const Words&) = delete;

  /// Of the words, e.g. "de"; for the language attribute and for dates.
  [[nodiscard]] const std::string& language() const { return language_; }
  [[nodiscard]] bool has(std::string_view key) const;
  /// \param values  texts are cleaned and keep their own direction inside the sentence
  /// \throws InternalError  no words for the key in English either, or a value is missing
  [[nodiscard]] std::string say(std::string_view key,
                                const std::vector<WordValue>& values = {}) const;

 private:
  friend class WordBook;
  struct Sentences;
  Words(std::string path, std::string language, const Words* english);

  std::string path_, language_;
  const Words* english_;
  std::unique_ptr<Sentences> sentences_;
};

/// Every language's words in one folder, each file read when first asked for.
class WordBook {
 public:
  /// \param folder  holds en.json, de.json …
  /// \throws WorldError  en.json is not there or is broken
  explicit WordBook(std::string folder);
  ~WordBook();
  WordBook(const WordBook&) = delete;
  WordBook& operator=(const WordBook&) = delete;

  /// Whether there are words for a BCP 47 tag: for the tag itself or for its language alone
  /// ("de-AT" is answered by de.json).
  [[nodiscard]] bool speaks(const std::string& language) const;
  /// The words for a tag; English where there are none. \throws WorldError  the file is broken
  const Words& in(const std::string& language);

 private:
  [[nodiscard]] std::string best(const std::string& language) const;

  std::string folder_;
  std::map<std::string, std::unique_ptr<Words>> known_;
};

}  // namespace gp
