#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

enum class BaseDirection { left_to_right, right_to_left, by_first_strong };

/// The embedding level of every UTF-16 unit of a paragraph; odd levels run from right to left.
struct Levels {
  std::vector<std::uint8_t> at;
  bool right_to_left = false;  ///< the paragraph's own direction
};
/// Source: the Unicode Bidirectional Algorithm, UAX #9, as ICU does it.
Levels levels_of(std::u16string_view paragraph, BaseDirection base);

/// In which order runs of these levels stand on the line, left to right: indexes into `levels`.
/// Source: UAX #9, rule L2.
std::vector<std::size_t> visual_order(const std::vector<std::uint8_t>& levels);

/// A stretch of one script; `script` is its ISO 15924 code ("Arab") and `name` Unicode's name
/// without underscores ("Arabic"), by which font files are named.
struct ScriptRun {
  std::size_t from = 0, until = 0;
  std::string script, name;
};
/// Characters of no script (spaces, digits, marks) go with what stands before them, at the
/// beginning with what comes after. Text with no script at all is one run of "Zyyy".
/// Source: UAX #24.
std::vector<ScriptRun> script_runs(std::u16string_view text);

/// Whether the character itself is of no script (Common or Inherited).
bool of_no_script(char32_t character);

}  // namespace gp
