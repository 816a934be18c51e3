#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// Where lines may end and where one character, as a reader sees it, ends and the next begins.
/// Source: UAX #14 and UAX #29, as ICU does them. Threads: one at a time for each object.
class Breaks {
 public:
  /// \param language  BCP 47; an unknown one breaks as the root language does
  explicit Breaks(const std::string& language);
  ~Breaks();
  Breaks(const Breaks&) = delete;
  Breaks& operator=(const Breaks&) = delete;

  /// Ends of the stretches that must stay on one line, in order; the last is the text's end.
  [[nodiscard]] std::vector<std::size_t> lines(std::u16string_view text);
  /// Ends of the characters as readers see them (grapheme clusters), in order.
  [[nodiscard]] std::vector<std::size_t> characters(std::u16string_view text);

 private:
  struct Iterators;
  std::unique_ptr<Iterators> iterators_;
};

}  // namespace gp
