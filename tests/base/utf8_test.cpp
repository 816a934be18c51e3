#include "base/utf8.h"

#include <doctest/doctest.h>

TEST_SUITE("base/utf8") {
  TEST_CASE("every scalar value is written and read back, and nothing else is") {
    // Unicode 15.0: 0 .. 10FFFF without the surrogates D800 .. DFFF
    std::size_t wrong = 0;
    for (char32_t value = 0; value <= 0x10FFFF; ++value) {
      if (value >= 0xD800 && value <= 0xDFFF) continue;
      std::string text;
      gp::append_utf8(text, value);
      const gp::CodePoint point = gp::decode_utf8(text, 0);
      if (point.value != value || point.bytes != text.size()) ++wrong;
    }
    CHECK(wrong == 0);
  }

  TEST_CASE("the byte sequences of table 3-7 and no others are UTF-8") {
    // All sequences of up to three bytes, and four-byte ones at the edges, against the table of the
    // Unicode Standard 15.0 (section 3.9) written out row by row.
    struct Row {
      unsigned least1, most1, least2, most2;
      std::size_t bytes;
    };
    const Row rows[] = {{0xC2, 0xDF, 0x80, 0xBF, 2},
                        {0xE0, 0xE0, 0xA0, 0xBF, 3},
                        {0xE1, 0xEC, 0x80, 0xBF, 3},
                        {0xED, 0xED, 0x80, 0x9F, 3},
                        {0xEE, 0xEF, 0x80, 0xBF, 3},
                        {0xF0, 0xF0, 0x90, 0xBF, 4},
                        {0xF1, 0xF3, 0x80, 0xBF, 4},
                        {0xF4, 0xF4, 0x80, 0x8F, 4}};
    std::size_t wrong = 0;
    for (unsigned first = 0x80; first <= 0xFF; ++first) {
      for (unsigned second = 0; second <= 0xFF; ++second) {
        for (const unsigned third : {0x41U, 0x7FU, 0x80U, 0xBFU, 0xC0U}) {
          std::size_t expected = 0;
          for (const Row& row : rows) {
            const bool fits = first >= row.least1 && first <= row.most1 && second >= row.least2 &&
                              second <= row.most2;
            const bool more = row.bytes == 2 || (third >= 0x80 && third <= 0xBF);
            if (fits && more) expected = row.bytes;
          }
          std::string text = {static_cast<char>(first),
                              static_cast<char>(second),
                              static_cast<char>(third),
                              '\x80'};
          if (gp::decode_utf8(text, 0).bytes != expected) ++wrong;
        }
      }
    }
    CHECK(wrong == 0);
  }

  TEST_CASE("a text cut off inside a character is not UTF-8") {
    const std::string text = "\xF0\x9F\x8E\xAC";  // U+1F3AC
    CHECK(gp::decode_utf8(text, 0).value == 0x1F3AC);
    for (std::size_t size = 1; size < 4; ++size) {
      CAPTURE(size);
      CHECK(gp::decode_utf8(text.substr(0, size), 0).bytes == 0);
    }
  }

  TEST_CASE("characters are counted, not bytes; a stray byte is one") {
    CHECK(gp::count_characters("Zoë") == 3);
    CHECK(gp::count_characters("李小龍") == 3);
    CHECK(gp::count_characters("a\xFF\xFE"
                               "b") == 4);
  }

  TEST_CASE("a long text is shortened to so many characters with an ellipsis") {
    CHECK(gp::shortened("Zoë", 3) == "Zoë");
    CHECK(gp::shortened("Zoëë", 3) == "Zo…");
    CHECK(gp::shortened("", 3) == "");
  }

  TEST_CASE("what is no scalar value is written as the replacement character") {
    std::string text;
    gp::append_utf8(text, 0xD800);
    gp::append_utf8(text, 0x110000);
    CHECK(text == "\xEF\xBF\xBD\xEF\xBF\xBD");
  }
}
