#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// One cell of a table for spreadsheets (RFC 4180): always in quotes, quotes doubled. What a
/// spreadsheet would take for a formula (=, +, -, @, tab or carriage return at the beginning) gets
/// an apostrophe before it, also after spaces. Source: OWASP, CSV Injection.
std::string csv_cell(std::string_view text);
/// A line of cells, ended by CRLF.
std::string csv_line(const std::vector<std::string>& cells);

}  // namespace gp
