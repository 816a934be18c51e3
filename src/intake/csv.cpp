#include "intake/csv.h"

#include "base/utf8.h"

#include <algorithm>
#include <array>
#include <utility>

namespace gp {
namespace {

constexpr std::size_t kMostShown = 200;  // characters of a bad line

class CsvReader {
 public:
  CsvReader(std::string_view text, char delimiter, std::size_t most_rows)
      : text_(text), delimiter_(delimiter), most_rows_(most_rows) {
    out_.delimiter = delimiter;
    // broken quotation marks make the reader go back; a file full of them must not cost a square
    budget_ = 4 * text.size() + 65536;
  }

  CsvRead read() {
    while (at_ < text_.size()) {
      if (out_.rows.size() == most_rows_) {
        out_.bad.push_back({line_,
                            "more than " + std::to_string(most_rows_) +
                                " rows: this one and those after it were not read",
                            rest_of_line(at_)});
        break;
      }
      read_row();
    }
    return std::move(out_);
  }

 private:
  void read_row() {
    const std::size_t begin = at_;
    const std::size_t first_line = line_;
    CsvRow row;
    row.line = line_;
    while (true) {
      if (row.cells.size() == kMostCsvColumns) {
        return go_on_after(begin, first_line, "more than 500 cells in a row");
      }
      std::string cell;
      const bool quoted = at_ < text_.size() && text_[at_] == '"';
      if (quoted) {
        if (const char* const why = read_quoted(cell); why != nullptr) {
          return go_on_after(begin, first_line, why);
        }
      } else {
        while (at_ < text_.size() && text_[at_] != delimiter_ && !at_line_end()) {
          cell += text_[at_++];
        }
      }
      row.cells.push_back(std::move(cell));
      row.quoted.push_back(quoted);
      if (at_ >= text_.size() || text_[at_] != delimiter_) break;
      ++at_;
    }
    end_line();
    const bool empty = row.cells.size() == 1 && row.cells[0].empty() && !row.quoted[0];
    if (!empty) out_.rows.push_back(std::move(row));
  }

  /// \return null, or what is wrong
  const char* read_quoted(std::string& cell) {
    ++at_;
    while (true) {
      if (at_ >= text_.size()) return "a quotation mark that is never closed";
      const char c = text_[at_];
      if (c == '"') {
        ++at_;
        if (at_ < text_.size() && text_[at_] == '"') {
          cell += '"';
          ++at_;
          continue;
        }
        break;
      }
      if (c == '\n' || (c == '\r' && !(at_ + 1 < text_.size() && text_[at_ + 1] == '\n'))) ++line_;
      cell += c;
      ++at_;
    }
    if (at_ < text_.size() && text_[at_] != delimiter_ && !at_line_end()) {
      return "text after a closing quotation mark (a mark inside a cell is written twice)";
    }
    return nullptr;
  }

  [[nodiscard]] bool at_line_end() const { return text_[at_] == '\n' || text_[at_] == '\r'; }

  void end_line() {
    if (at_ >= text_.size()) return;
    if (text_[at_] == '\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n') ++at_;
    ++at_;
    ++line_;
  }

  /// A row that cannot be read: the rows below it may be right, so reading goes on in the line
  /// after its first one.
  void go_on_after(std::size_t begin, std::size_t first_line, const char* why) {
    out_.bad.push_back({first_line, why, rest_of_line(begin)});
    const std::size_t again = at_ - begin;
    if (again <= budget_) {
      budget_ -= again;
      at_ = begin;
      line_ = first_line;
    }
    while (at_ < text_.size() && !at_line_end()) ++at_;
    end_line();
  }

  [[nodiscard]] std::string rest_of_line(std::size_t from) const {
    const std::size_t end = std::min(text_.find_first_of("\r\n", from), text_.size());
    return shortened(text_.substr(from, std::min(end - from, 8 * kMostShown)), kMostShown);
  }

  std::string_view text_;
  char delimiter_;
  std::size_t most_rows_;
  std::size_t budget_ = 0;
  std::size_t at_ = 0;
  std::size_t line_ = 1;
  CsvRead out_;
};

bool begins_formula(std::string_view cell) {
  if (cell.empty()) return false;
  if (std::string_view("=+-@\t\r\n").find(cell.front()) != std::string_view::npos) return true;
  if (cell.front() == '\0') return true;
  // full-width = + - @
  constexpr std::array<std::string_view, 4> kWide = {
      "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
  return std::any_of(
      kWide.begin(), kWide.end(), [&](std::string_view sign) { return cell.starts_with(sign); });
}

/// Whether the cell is a formula behind any number of apostrophes.
bool needs_guard(std::string_view cell) {
  const std::size_t first = cell.find_first_not_of('\'');
  return first != std::string_view::npos && begins_formula(cell.substr(first));
}

}  // namespace

CsvRead read_csv(std::string_view text, std::optional<char> delimiter) {
  return CsvReader(text, delimiter.value_or(guessed_delimiter(text)), kMostCsvRows).read();
}

char guessed_delimiter(std::string_view text) {
  constexpr std::size_t kEnoughRows = 100;
  constexpr std::size_t kEnoughBytes = 256 * 1024;
  const std::string_view begin = text.substr(0, kEnoughBytes);
  char best = ',';
  std::pair<std::size_t, std::size_t> best_score{0, 0};
  for (const char candidate : {',', ';', '\t'}) {
    const CsvRead read = CsvReader(begin, candidate, kEnoughRows).read();
    if (read.rows.empty() || read.rows.front().cells.size() < 2) continue;
    const std::size_t columns = read.rows.front().cells.size();
    std::size_t alike = 0;
    for (const CsvRow& row : read.rows) alike += row.cells.size() == columns ? 1U : 0U;
    const std::pair<std::size_t, std::size_t> score{alike, columns};
    if (score > best_score) {
      best_score = score;
      best = candidate;
    }
  }
  return best;
}

std::string csv_row(const std::vector<std::string>& cells) {
  std::string line;
  bool first = true;
  for (const std::string& plain : cells) {
    if (!first) line += ',';
    first = false;
    const std::string cell = guarded(plain);
    const bool quote = cell.find_first_of(",;\t\"\r\n") != std::string::npos ||
                       (!cell.empty() && (cell.front() == ' ' || cell.back() == ' '));
    if (!quote) {
      line += cell;
      continue;
    }
    line += '"';
    for (const char c : cell) {
      if (c == '"') line += '"';
      line += c;
    }
    line += '"';
  }
  return line + "\r\n";
}

std::string guarded(std::string_view cell) {
  return (needs_guard(cell) ? "'" : "") + std::string(cell);
}

std::string unguarded(std::string_view cell) {
  const bool guard = cell.starts_with('\'') && needs_guard(cell);
  return std::string(guard ? cell.substr(1) : cell);
}

}  // namespace gp
