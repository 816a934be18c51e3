#include "base/fault.h"

#include "base/utf8.h"

#include <algorithm>
#include <array>
#include <utility>

namespace gp {
namespace {

constexpr std::size_t kMostCells = 100;  ///< of a source line shown
constexpr std::string_view kIndent = "  ";

using Range = std::pair<char32_t, char32_t>;

/// Characters that a terminal draws two cells wide.
/// Source: Unicode Standard Annex 11, East Asian Width W and F, by blocks; held against the C
/// library's table by a test.
constexpr std::array<Range, 22> kWide = {
    {{0x1100, 0x115F},   {0x231A, 0x231B},   {0x23E9, 0x23EC},   {0x2E80, 0x303E},
     {0x3041, 0x3247},   {0x3250, 0x4DBF},   {0x4E00, 0xA4C6},   {0xA960, 0xA97C},
     {0xAC00, 0xD7A3},   {0xF900, 0xFAFF},   {0xFE30, 0xFE6B},   {0xFF01, 0xFF60},
     {0xFFE0, 0xFFE6},   {0x1F300, 0x1F320}, {0x1F32D, 0x1F335}, {0x1F337, 0x1F37C},
     {0x1F37E, 0x1F393}, {0x1F3A0, 0x1F3CA}, {0x1F3E0, 0x1F3F0}, {0x1F3F8, 0x1F64F},
     {0x1F680, 0x1F6C5}, {0x20000, 0x3FFFD}}};

/// Marks that stand on the character before them, and joiners: no cell of their own.
/// Source: Unicode 15.0, general categories Mn, Me and Cf, the scripts most used.
constexpr std::array<Range, 34> kNarrow = {
    {{0x0300, 0x036F}, {0x0483, 0x0489}, {0x0591, 0x05BD}, {0x05BF, 0x05BF},  {0x05C1, 0x05C2},
     {0x05C4, 0x05C5}, {0x05C7, 0x05C7}, {0x0610, 0x061A}, {0x064B, 0x065F},  {0x0670, 0x0670},
     {0x06D6, 0x06DC}, {0x06DF, 0x06E4}, {0x06E7, 0x06E8}, {0x06EA, 0x06ED},  {0x0900, 0x0902},
     {0x093A, 0x093A}, {0x093C, 0x093C}, {0x0941, 0x0948}, {0x094D, 0x094D},  {0x0951, 0x0957},
     {0x0981, 0x0981}, {0x09BC, 0x09BC}, {0x09C1, 0x09C4}, {0x09CD, 0x09CD},  {0x0E31, 0x0E31},
     {0x0E34, 0x0E3A}, {0x0E47, 0x0E4E}, {0x1AB0, 0x1ACE}, {0x1DC0, 0x1DFF},  {0x200B, 0x200F},
     {0x20D0, 0x20F0}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}, {0xE0100, 0xE01EF}}};

template <std::size_t N>
bool within(const std::array<Range, N>& ranges, char32_t c) {
  return std::any_of(ranges.begin(), ranges.end(), [c](const Range& range) {
    return c >= range.first && c <= range.second;
  });
}

std::size_t cells(char32_t c) {
  if (c < 0x300) return 1;
  if (within(kNarrow, c)) return 0;
  return within(kWide, c) ? 2 : 1;
}

/// What is drawn for a character, so that it is seen and moves nothing.
char32_t visible(char32_t c) {
  if (c == U'\t') return U' ';
  if (c < 0x20) return U'\u2400' + c;  // control pictures
  if (c == 0x7F) return U'\u2421';
  const bool steers = (c >= 0x80 && c <= 0x9F) || (c >= 0x202A && c <= 0x202E) ||
                      (c >= 0x2066 && c <= 0x2069) || c == 0x2028 || c == 0x2029 || c == 0xFEFF;
  return steers ? U'\uFFFD' : c;
}

std::string_view line_of(std::string_view text, std::size_t line) {
  for (std::size_t i = 1; i < line; ++i) {
    const std::size_t end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  if (line == 1 && text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  text = text.substr(0, text.find('\n'));
  if (text.ends_with('\r')) text.remove_suffix(1);
  return text;
}

/// The part of the line that is shown, drawn, and the cell in it under which the caret stands.
std::pair<std::string, std::size_t> shown_line(std::string_view line, std::size_t column) {
  // Far from the column nothing is looked at, so that a file of one huge line costs little more.
  std::u32string drawn;
  constexpr std::size_t kBefore = 60;
  std::size_t from = column > kBefore ? column - kBefore : 0;  // in characters
  std::size_t skipped = 0;
  std::size_t at = 0;
  while (skipped < from && at < line.size()) {
    at += std::max<std::size_t>(decode_utf8(line, at).bytes, 1);
    ++skipped;
  }
  const bool cut_before = skipped > 0;
  while (at < line.size() && drawn.size() < 2 * kMostCells) {
    const CodePoint point = decode_utf8(line, at);
    drawn += visible(point.bytes == 0 ? U'\uFFFD' : point.value);
    at += std::max<std::size_t>(point.bytes, 1);
  }
  std::string result = cut_before ? "…" : "";
  std::size_t width = cut_before ? 1 : 0;
  std::size_t caret = width;
  const std::size_t marked = column - 1 - skipped;  // index in `drawn`
  std::size_t i = 0;
  for (; i < drawn.size(); ++i) {
    const std::size_t own = cells(drawn[i]);
    if (i == marked) caret = width;
    if (width + own > kMostCells) break;
    append_utf8(result, drawn[i]);
    width += own;
  }
  if (i < drawn.size() || at < line.size()) result += "…";
  if (marked >= i) caret = width;
  return {result, caret};
}

}  // namespace

std::string render(const Fault& fault, std::string_view file_name, std::string_view source_text) {
  std::string result(file_name);
  if (fault.line > 0) {
    result += ":" + std::to_string(fault.line) + ":" + std::to_string(fault.column);
  }
  result += ": ";
  if (!fault.path.empty()) result += fault.path + ": ";
  result += "found " + fault.found + ", expected " + fault.expected;
  if (!fault.nearest.empty()) result += "; nearest: \"" + fault.nearest + "\"";
  result += '\n';
  if (fault.line == 0 || fault.column == 0) return result;
  const auto [line, caret] = shown_line(line_of(source_text, fault.line), fault.column);
  result += std::string(kIndent) + line + '\n';
  return result + std::string(kIndent.size() + caret, ' ') + "^\n";
}

}  // namespace gp
