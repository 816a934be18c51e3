#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// Comma-separated values (RFC 4180). Our own reader of some hundred lines, because a list made by
// hand must be read on after a broken row and every row's line be known: docs/decisions/intake.md.

namespace gp {

inline constexpr std::size_t kMostCsvRows = 100'000;
inline constexpr std::size_t kMostCsvColumns = 500;

struct CsvRow {
  std::size_t line = 1;  ///< of the file, where the row begins
  std::vector<std::string> cells;
  std::vector<bool> quoted;  ///< for each cell: it stood in quotation marks
};

/// A part of a file that could not be used, and why.
struct BadLine {
  std::size_t line = 0;
  std::string why;
  std::string text;  ///< what stands there, from its first line
  bool operator==(const BadLine&) const = default;
};

struct CsvRead {
  char delimiter = ',';
  std::vector<CsvRow> rows;  ///< without empty lines
  std::vector<BadLine> bad;  ///< in the order of the file; reading goes on in the next line
};

/// Reads a table; lines may end in CRLF, LF or CR. A quotation mark inside a cell that does not
/// begin with one is a character as any other. The number of cells may differ from row to row: the
/// reader of the columns judges that. Memory: about three times the text.
/// \param text       UTF-8
/// \param delimiter  none: guessed_delimiter()
/// Source: RFC 4180 section 2.
CsvRead read_csv(std::string_view text, std::optional<char> delimiter = std::nullopt);

/// The one of comma, semicolon and tab by which most of the first rows have the same number of
/// cells, more than one; a comma where none does.
char guessed_delimiter(std::string_view text);

/// One row with its line end (CRLF). Cells are guarded(), and quoted where they must be or have a
/// blank at an edge.
std::string csv_row(const std::vector<std::string>& cells);

/// A cell that no program takes for a formula: where it begins with = + - @, a tab, CR, LF or NUL
/// (their full-width forms too), an apostrophe comes before it; and another one before a text that
/// looks guarded already, so that unguarded() gives back exactly what was there.
/// Source: OWASP, "CSV Injection"; OWASP ASVS 5.0, 1.2.10.
std::string guarded(std::string_view cell);
std::string unguarded(std::string_view cell);

}  // namespace gp
