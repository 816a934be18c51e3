#include "intake/csv.h"

#include "base/random.h"
#include "support/seed.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

using namespace gp;

namespace {

using Cells = std::vector<std::string>;

std::vector<Cells> cells_of(const CsvRead& read) {
  std::vector<Cells> out;
  for (const CsvRow& row : read.rows) out.push_back(row.cells);
  return out;
}

}  // namespace

TEST_SUITE("intake/csv") {
  // RFC 4180, section 2, rules 1 to 7: the examples as they stand there.
  TEST_CASE("the examples of RFC 4180 are read as it says") {
    const std::vector<Cells> two = {{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}};
    CHECK(cells_of(read_csv("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n")) == two);            // 1
    CHECK(cells_of(read_csv("aaa,bbb,ccc\r\nzzz,yyy,xxx")) == two);                // 2
    CHECK(cells_of(read_csv("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx")) == two);    // 5
    const CsvRead lines = read_csv("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx");  // 6
    CHECK(cells_of(lines) == std::vector<Cells>{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(lines.rows[1].line == 3);  // the first row takes two lines
    CHECK(cells_of(read_csv("\"aaa\",\"b\"\"bb\",\"ccc\"")) ==
          std::vector<Cells>{{"aaa", "b\"bb", "ccc"}});                             // 7
    CHECK(cells_of(read_csv("a, b ,c")) == std::vector<Cells>{{"a", " b ", "c"}});  // 4: spaces
  }

  TEST_CASE("lines may end in LF or CR alone, and empty lines count for nothing but their number") {
    for (const std::string end : {"\n", "\r", "\r\n"}) {
      CAPTURE(end);
      const CsvRead read = read_csv("a,b" + end + end + "c,d" + end);
      CHECK(cells_of(read) == std::vector<Cells>{{"a", "b"}, {"c", "d"}});
      CHECK(read.rows[1].line == 3);
    }
  }

  TEST_CASE("the separator is guessed by the rows that agree") {
    CHECK(guessed_delimiter("name,phone\nBo,1\n") == ',');
    CHECK(guessed_delimiter("name;phone\nBo, the cook;1\nLi;2\n") == ';');
    CHECK(guessed_delimiter("name\tphone\nHaddad, Noor\t1\nLi, Bo\t2\nAda\t3\n") == '\t');
    CHECK(guessed_delimiter("just one column\nBo\n") == ',');
    CHECK(guessed_delimiter("") == ',');
    CHECK(guessed_delimiter("\"a;b;c\",d\n\"e;f\",g\n") == ',');  // separators inside marks
  }

  TEST_CASE("a broken row is told by its line and the rows after it are read") {
    const CsvRead text_after = read_csv("a,b\n\"x\"y,2\nc,d\n", ',');
    REQUIRE(text_after.bad.size() == 1);
    CHECK(text_after.bad[0].line == 2);
    CHECK(text_after.bad[0].text == "\"x\"y,2");
    CHECK(cells_of(text_after) == std::vector<Cells>{{"a", "b"}, {"c", "d"}});

    const CsvRead never_closed = read_csv("a,b\n\"x,2\nc,d\ne,f\n", ',');
    REQUIRE(never_closed.bad.size() == 1);
    CHECK(never_closed.bad[0].line == 2);
    CHECK(cells_of(never_closed) == std::vector<Cells>{{"a", "b"}, {"c", "d"}, {"e", "f"}});
  }

  TEST_CASE("a quotation mark inside a plain cell is a character") {
    CHECK(cells_of(read_csv("5\" nail,b")) == std::vector<Cells>{{"5\" nail", "b"}});
  }

  TEST_CASE("more rows than a list may have are told, not dropped") {
    std::string text;
    for (std::size_t i = 0; i < kMostCsvRows + 3; ++i) text += "a,b\n";
    const CsvRead read = read_csv(text, ',');
    CHECK(read.rows.size() == kMostCsvRows);
    REQUIRE(read.bad.size() == 1);
    CHECK(read.bad[0].line == kMostCsvRows + 1);
  }

  TEST_CASE("a file of broken quotation marks costs no square of its length") {
    // every line opens a mark that only the end of the file would close: 200,000 lines
    std::string text;
    for (int i = 0; i < 200'000; ++i) text += "a,\"\"\"b\"\"\n";
    const CsvRead read = read_csv(text, ',');
    CHECK_FALSE(read.bad.empty());
  }

  // OWASP, "CSV Injection": cells must not begin with = + - @ tab CR; the full-width forms count
  // too. ASVS 5.0, 1.2.10 names the single quote as the guard.
  TEST_CASE("no cell written begins as a formula does") {
    for (const std::string cell : {"=1+1",
                                   "+44 7700 900123",
                                   "-1",
                                   "@SUM(A1)",
                                   "\tx",
                                   "\rx",
                                   "\nx",
                                   "\xEF\xBC\x9D"
                                   "1",
                                   "=HYPERLINK(\"http://example.org\",\"x\")"}) {
      CAPTURE(cell);
      CHECK(guarded(cell) == "'" + cell);
      CHECK(unguarded(guarded(cell)) == cell);
    }
    CHECK(guarded("Noor") == "Noor");
    CHECK(guarded("O'Brien") == "O'Brien");
    CHECK(guarded("'s-Hertogenbosch") == "'s-Hertogenbosch");
    CHECK(unguarded("'s-Hertogenbosch") == "'s-Hertogenbosch");
    CHECK(unguarded("'=1") == "=1");
    CHECK(guarded("'=1") == "''=1");
    CHECK(unguarded("''=1") == "'=1");
  }

  TEST_CASE("what is written is read back the same, whatever stands in the cells") {
    Random random(test::seed());
    const std::string signs = "ab \"',;\t\r\n=+-@'x";
    for (int round = 0; round < 300; ++round) {
      CAPTURE(round);
      std::string text;
      std::vector<Cells> rows;
      const int width = 2 + static_cast<int>(random.below(3));
      for (int row = 0; row < 5; ++row) {
        Cells cells;
        for (int i = 0; i < width; ++i) {
          std::string cell;
          for (auto n = random.below(6); n > 0; --n) cell += signs[random.index(signs.size())];
          cells.push_back(cell);
        }
        text += csv_row(cells);
        rows.push_back(cells);
      }
      const CsvRead read = read_csv(text, ',');
      CHECK(read.bad.empty());
      REQUIRE(read.rows.size() == rows.size());
      for (std::size_t row = 0; row < rows.size(); ++row) {
        Cells back;
        for (const std::string& cell : read.rows[row].cells) back.push_back(unguarded(cell));
        CHECK(back == rows[row]);
      }
    }
  }
}
