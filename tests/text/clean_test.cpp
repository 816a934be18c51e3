#include "text/clean.h"

#include <string>

#include <doctest/doctest.h>

TEST_SUITE("text/clean") {
  TEST_CASE("a letter and its accent typed apart become one letter") {
    // UAX #15: the composed form of U+0065 U+0308 is U+00EB.
    CHECK(gp::clean("Zoe\xCC\x88") == u"Zo\u00EB");
    // Vietnamese, two marks: e + circumflex + tilde is U+1EC5.
    CHECK(gp::clean("Nguye\xCC\x82\xCC\x83n") == u"Nguy\u1EC5n");
  }

  TEST_CASE("bytes that are no UTF-8 and control characters are seen, not swallowed") {
    CHECK(gp::clean("a\xFF"
                    "b") == u"a\uFFFDb");
    CHECK(gp::clean(std::string("a\0b", 3)) == u"a\uFFFDb");
    CHECK(gp::clean("a\x1B[31mb") == u"a\uFFFD[31mb");
    // The first half of a surrogate pair, written as if it were UTF-8 (CESU).
    CHECK(gp::clean("\xED\xA0\xBD").find(u'\xD83D') == std::u16string::npos);
  }

  TEST_CASE("ends of lines become spaces") {
    CHECK(gp::clean("one\ntwo\tthree\r") == u"one two three ");
    CHECK(gp::clean("one\xE2\x80\xA8two") == u"one two");
  }

  TEST_CASE("a name cannot turn round the sentence it stands in") {
    // U+202E, the right-to-left override, and an isolate that is never closed.
    CHECK(gp::clean("\xE2\x80\xAE"
                    "evil"
                    "\xE2\x81\xA6") == u"evil");
    CHECK(gp::isolated("ab") == u"\u2068ab\u2069");
    CHECK(gp::isolated("").empty());
  }

  TEST_CASE("joiners inside a word stay") {
    // Persian "I want" is written with U+200C between its parts.
    CHECK(gp::clean("می\xE2\x80\x8Cخواهم").find(u'\u200C') != std::u16string::npos);
  }

  TEST_CASE("text goes to UTF-16 and back unchanged, above the basic plane too") {
    const std::string text = "Ana 😀 李";
    CHECK(gp::to_utf8(gp::to_utf16(text)) == text);
  }

  TEST_CASE("a character is described with its number and Unicode's name for it") {
    CHECK(gp::describe_character(U'Ё') == "“Ё” (U+0401 CYRILLIC CAPITAL LETTER IO)");
    CHECK(gp::describe_character(U'\U0001F600') == "“😀” (U+1F600 GRINNING FACE)");
    CHECK(gp::describe_character(U'\U000E1234').find("U+E1234") != std::string::npos);
  }
}
