#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace gp {

/// Makes words comparable: without upper case, accents, signs and doubled blanks, so that "ZOË
/// O’Brien " and "Zoe O'Brien" are the same text. Latin letters become ASCII ("Łódź" is "lodz");
/// letters of other scripts stay.
/// Source: Unicode case folding and NFKC, and CLDR's transform Latin-ASCII, as ICU does them.
/// Threads: one at a time for each object.
class Folding {
 public:
  Folding();
  ~Folding();
  Folding(const Folding&) = delete;
  Folding& operator=(const Folding&) = delete;

  /// Words with one blank between them; nothing but letters and digits.
  [[nodiscard]] std::string words(std::string_view utf8) const;
  /// The same for the name of a person, whatever the order of its words and however an umlaut is
  /// written: "Müller, Jörg" and "Joerg Mueller" are the same.
  [[nodiscard]] std::string name(std::string_view utf8) const;

 private:
  struct Rules;
  std::unique_ptr<Rules> rules_;
};

}  // namespace gp
