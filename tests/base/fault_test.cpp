#include "base/fault.h"

#include "base/json.h"
#include "base/utf8.h"

#include <clocale>
#include <cwchar>

#include <doctest/doctest.h>

namespace {

std::string rendered(const std::string& source, std::size_t line, std::size_t column) {
  gp::Fault fault;
  fault.line = line;
  fault.column = column;
  fault.found = "this";
  fault.expected = "that";
  return gp::render(fault, "f.json", source);
}

/// In which cell, from 0, the caret stands.
std::size_t caret(const std::string& text) {
  const std::size_t last = text.rfind('\n', text.size() - 2);
  return text.size() - 2 - (last + 1);
}

}  // namespace

TEST_SUITE("base/fault") {
  TEST_CASE(
      "a fault is told with file, line, column, path, both sides, the hint, the line, a caret") {
    const std::string source = "{\n  \"cast\": [{\"role\": \"quen\"}]\n}\n";
    const gp::Fault fault = {
        2, 21, "scenes[3].cast[0].role", "\"quen\"", "the id of a role in \"roles\"", "queen"};
    CHECK(gp::render(fault, "march.json", source) ==
          "march.json:2:21: scenes[3].cast[0].role: found \"quen\", expected the id of a role in "
          "\"roles\"; nearest: \"queen\"\n"
          "    \"cast\": [{\"role\": \"quen\"}]\n"
          "                      ^\n");
  }

  TEST_CASE("a fault of the file as a whole has no line") {
    CHECK(gp::render({0, 0, "", "a file of 9 bytes", "fewer", ""}, "f.json", "x") ==
          "f.json: found a file of 9 bytes, expected fewer\n");
  }

  TEST_CASE("the caret stands under the character, with tabs, wide and combining ones before it") {
    CHECK(caret(rendered("abcX", 1, 4)) == 2 + 3);
    CHECK(caret(rendered("\t\tX", 1, 3)) == 2 + 2);     // a tab is shown as one blank
    CHECK(caret(rendered("李小X", 1, 3)) == 2 + 4);     // two cells each
    CHECK(caret(rendered("e\u0301X", 1, 3)) == 2 + 1);  // e and its accent share a cell
    CHECK(caret(rendered("🎬X", 1, 2)) == 2 + 2);
    CHECK(caret(rendered("नमस्तेX", 1, 7)) == 2 + 4);  // न म स ् त े: two marks stand on others
  }

  TEST_CASE("a byte order mark is not seen and not counted") {
    CHECK(rendered("\xEF\xBB\xBF"
                   "ab",
                   1,
                   2) == "f.json:1:2: found this, expected that\n  ab\n   ^\n");
  }

  TEST_CASE("lines may end as Windows ends them, and the last may not end at all") {
    CHECK(rendered("a\r\nbc\r\nd", 2, 2) == "f.json:2:2: found this, expected that\n  bc\n   ^\n");
    CHECK(rendered("a\r\nbc\r\nd", 3, 2) == "f.json:3:2: found this, expected that\n  d\n   ^\n");
  }

  TEST_CASE("control characters and stray bytes are shown, and steer nothing") {
    CHECK(rendered("a\x1B[31m\x7F\xFF\u202Eb", 1, 1) ==
          "f.json:1:1: found this, expected that\n  a␛[31m␡\uFFFD\uFFFDb\n  ^\n");
  }

  TEST_CASE("a long line is shown around the column") {
    std::string line(500, 'a');
    line[299] = 'X';
    const std::string text = rendered(line, 1, 300);
    // 60 characters before the column begin at character 241: an ellipsis, 59 of them, then X
    const std::string expected = "  …" + std::string(59, 'a') + "X" + std::string(39, 'a') + "…\n";
    CHECK(text == "f.json:1:300: found this, expected that\n" + expected +
                      std::string(2 + 1 + 59, ' ') + "^\n");
  }

  TEST_CASE("columns and lines outside the file end in no crash") {
    CHECK(rendered("", 1, 1) == "f.json:1:1: found this, expected that\n  \n  ^\n");
    CHECK(rendered("a", 7, 9) == "f.json:7:9: found this, expected that\n  \n  ^\n");
    CHECK(rendered("abc", 1, 0) == "f.json:1:0: found this, expected that\n");
    CHECK(rendered("abc", 1, 90).size() < 80);
  }

  TEST_CASE("cells agree with the C library's wcwidth, on the scripts of our names") {
    // glibc's table is made from Unicode's EastAsianWidth.txt and UnicodeData.txt
    if (std::setlocale(LC_CTYPE, "C.UTF-8") == nullptr) {
      FAIL("the locale C.UTF-8 is missing; it is part of Debian's libc-bin");
    }
    std::size_t differ = 0;
    const std::pair<char32_t, char32_t> ranges[] = {{0x20, 0x7E},
                                                    {0xA0, 0xAC},
                                                    {0xAE, 0x52F},
                                                    {0x5D0, 0x5EA},
                                                    {0x620, 0x669},
                                                    {0x904, 0x939},
                                                    {0x1E00, 0x1EFF},
                                                    {0x3041, 0x3096},
                                                    {0x4E00, 0x9FFF},
                                                    {0xAC00, 0xD7A3},
                                                    {0xFF01, 0xFF60},
                                                    {0x1F300, 0x1F320},
                                                    {0x1F600, 0x1F64F}};
    for (const auto& [from, until] : ranges) {
      for (char32_t c = from; c <= until; ++c) {
        const int theirs = wcwidth(static_cast<wchar_t>(c));
        if (theirs < 0) continue;  // not assigned there
        std::string line;
        gp::append_utf8(line, c);
        const std::size_t ours = caret(rendered(line + "X", 1, 2)) - 2;
        if (ours != static_cast<std::size_t>(theirs)) {
          ++differ;
          CAPTURE(static_cast<unsigned>(c));
          CHECK(ours == static_cast<std::size_t>(theirs));
        }
      }
    }
    CHECK(differ == 0);
    std::setlocale(LC_CTYPE, "C");
  }
}
