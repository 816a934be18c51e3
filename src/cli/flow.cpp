#include "cli/flow.h"

#include "text/width.h"

#include <algorithm>

namespace gp {

std::string flow(const std::vector<std::string>& pieces,
                 std::string_view between,
                 std::size_t indent,
                 std::size_t width) {
  constexpr std::size_t kLeast = 10;  // a line has some room, however narrow the terminal
  const std::size_t room = std::max(width, indent + kLeast) - indent;
  std::string text;
  std::size_t used = 0;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const std::string_view after = i + 1 < pieces.size() ? between : std::string_view();
    const std::size_t after_cells = cells(after);
    const std::string piece = cut_to(pieces[i], room - std::min(room - 1, after_cells));
    const std::size_t wide = cells(piece) + after_cells;
    if (used > 0 && used + 1 + wide > room) {
      text += '\n' + std::string(indent, ' ');
      used = 0;
    } else if (used > 0) {
      text += ' ';
      ++used;
    }
    text += piece;
    text += after;
    used += wide;
  }
  return text;
}

std::string flow_text(std::string_view text, std::size_t indent, std::size_t width) {
  std::vector<std::string> words(1);
  for (const char character : text) {
    if (character != ' ') {
      words.back() += character;
    } else if (!words.back().empty()) {
      words.emplace_back();
    }
  }
  if (words.back().empty()) words.pop_back();
  return flow(words, "", indent, width);
}

std::string harmless_lines(const std::string& text) {
  std::string result;
  for (std::size_t from = 0; from < text.size();) {
    const std::size_t end = text.find('\n', from);
    result += harmless(text.substr(from, end - from)) + "\n";
    if (end == std::string::npos) break;
    from = end + 1;
  }
  return result;
}

std::string padded(std::string_view text, std::size_t width) {
  const std::size_t wide = cells(text);
  return std::string(text) + std::string(wide < width ? width - wide : 0, ' ');
}

std::string padded_left(std::string_view text, std::size_t width) {
  const std::size_t wide = cells(text);
  return std::string(wide < width ? width - wide : 0, ' ') + std::string(text);
}

}  // namespace gp
