#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// Pieces one after the other in lines of at most `width` cells; a piece is not broken unless it is
/// wider than a whole line (then it is cut). `between` stands after each piece but the last, a
/// space after it where the line goes on. Lines after the first begin with `indent` spaces; the
/// first is thought to begin there too and gets none. No line end after the last.
std::string flow(const std::vector<std::string>& pieces,
                 std::string_view between,
                 std::size_t indent,
                 std::size_t width);

/// A text in lines, broken at its spaces; otherwise as flow().
std::string flow_text(std::string_view text, std::size_t indent, std::size_t width);

/// The text harmless() line by line: its line ends stay. Ends with one, unless it is empty.
std::string harmless_lines(const std::string& text);

/// The text with spaces behind (or in front of) it up to `width` cells.
std::string padded(std::string_view text, std::size_t width);
std::string padded_left(std::string_view text, std::size_t width);

}  // namespace gp
