#pragma once

#include "base/fault.h"
#include "base/json.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// The characters of a JSON text, for read_json() alone: where we are, blanks, texts in quotation
/// marks, and the faults found. Functions that return bool say whether reading can go on.
class JsonScanner {
 protected:
  explicit JsonScanner(std::string_view text) : text_(text) {}

  static bool is_digit(char c);
  static bool is_letter(char c);
  /// Stands in words, numbers, dates and times written without quotation marks.
  static bool is_word(char c);

  [[nodiscard]] bool at_end() const { return at_ >= text_.size(); }
  [[nodiscard]] char here() const { return text_[at_]; }
  [[nodiscard]] bool here_is(char c) const { return !at_end() && here() == c; }
  /// The position of an offset not before the last one asked for: linear over the whole file.
  JsonPosition position(std::size_t offset);
  JsonPosition position() { return position(at_); }

  void fault(JsonPosition at, std::string found, std::string expected, std::string nearest = {});
  [[nodiscard]] bool too_many_faults() const { return faults_.size() >= kMostJsonFaults; }

  /// What stands here, in words.
  [[nodiscard]] std::string here_as_words() const;
  [[nodiscard]] std::string_view word_here() const;

  /// Blanks, and what people put where only blanks may stand.
  bool skip_space();
  /// A text in quotation marks; `'single'` ones are told and read all the same.
  bool string(std::string& out);

  std::string_view text_;
  std::size_t at_ = 0;
  JsonPosition marked_;
  std::string path_;  ///< of the value being read
  std::vector<Fault> faults_;

 private:
  bool comment();
  bool escape(std::string& out);
  bool four_digits(char32_t& value);
};

}  // namespace gp
