#include "text/width.h"

#include "base/utf8.h"

#include <clocale>
#include <cstdint>
#include <string>

#include <doctest/doctest.h>
#include <wchar.h>

TEST_SUITE("text/width") {
  TEST_CASE("letters take one cell, wide ones two, marks none") {
    CHECK(gp::cells("") == 0);
    CHECK(gp::cells("Noor") == 4);
    CHECK(gp::cells("Łukasz") == 6);
    CHECK(gp::cells("Άννα") == 4);
    CHECK(gp::cells("李小龍") == 6);              // three ideographs, wide in UAX 11
    CHECK(gp::cells("ﾊﾝﾅ") == 3);                 // half-width katakana: narrow
    CHECK(gp::cells("ＡＢ") == 4);                // full-width letters
    CHECK(gp::cells("김") == 2);                  // one syllable
    CHECK(gp::cells("\u1100\u1175\u11B7") == 2);  // the same in three letters that join
    CHECK(gp::cells("Zoe\u0308") == 3);           // e and a combining diaeresis
    CHECK(gp::cells("Nguyễn") == 6);
    CHECK(gp::cells("עִבְרִית") == 5);  // five letters; the points take nothing
    CHECK(gp::cells("हिन्दी") == 5);  // ह ि न ् द ी: the virama takes nothing
    CHECK(gp::cells("🎬") == 2);
    CHECK(gp::cells("a\u200Db") == 2);  // a joiner draws nothing
  }

  TEST_CASE("every character takes as many cells as the C library says") {
    // glibc's own tables (wcwidth of C.UTF-8, made from the Unicode data by other people than
    // ICU's)
    REQUIRE(std::setlocale(LC_CTYPE, "C.UTF-8") != nullptr);
    std::size_t compared = 0;
    for (char32_t character = 0x20; character < 0x30000; ++character) {
      if (character >= 0xD800 && character < 0xE000) continue;  // halves of pairs, no characters
      // ambiguous in UAX 11 and narrow here, wide in glibc: ten to eighty in squares, hexagrams
      if (character >= 0x3248 && character <= 0x324F) continue;
      if (character >= 0x4DC0 && character <= 0x4DFF) continue;
      const int theirs = ::wcwidth(static_cast<wchar_t>(character));
      if (theirs < 0) continue;  // control, or unknown to glibc
      std::string text;
      gp::append_utf8(text, character);
      CAPTURE(static_cast<std::uint32_t>(character));
      if (gp::cells(text) != static_cast<std::size_t>(theirs)) {
        CHECK(gp::cells(text) == static_cast<std::size_t>(theirs));
      }
      ++compared;
    }
    std::setlocale(LC_CTYPE, "C");
    CHECK(compared > 140'000);  // 145,747 with glibc 2.36 and ICU 72
  }

  TEST_CASE("a text is cut where a person sees a character end") {
    CHECK(gp::cut_to("Noor", 4) == "Noor");
    CHECK(gp::cut_to("Noor Haddad", 6) == "Noor …");
    CHECK(gp::cut_to("李小龍", 5) == "李小…");  // 2 + 2 + 1
    CHECK(gp::cut_to("李小龍", 4) == "李…");    // a second ideograph and the dots would take 5
    CHECK(gp::cut_to("Zoe\u0308lla", 4) == "Zoe\u0308…");  // the mark stays with its letter
    CHECK(gp::cut_to("Noor", 1) == "…");
    CHECK(gp::cut_to("Noor", 0).empty());
    CHECK(gp::cut_to("", 0).empty());
  }

  TEST_CASE("a cut text is never wider than asked, and uncut when it fits") {
    const std::string names[] = {"Noor Haddad", "李小龍", "Zoe\u0308", "🎬🎬🎬", "a\u0301\u0302b"};
    for (const std::string& name : names) {
      for (std::size_t most = 0; most < 12; ++most) {
        CAPTURE(name);
        CAPTURE(most);
        CHECK(gp::cells(gp::cut_to(name, most)) <= most);
        if (gp::cells(name) <= most) CHECK(gp::cut_to(name, most) == name);
      }
    }
  }

  TEST_CASE("a name cannot command the terminal") {
    CHECK(gp::harmless("Bo\x1b[2J") == "Bo\uFFFD[2J");
    CHECK(gp::harmless("a\nb\tc\r") == "a b c ");
    CHECK(gp::harmless("\u009b31m") == "\uFFFD31m");  // the one-character form of escape [
    CHECK(gp::harmless("ab\u202Ecd") == "abcd");      // would print what follows backwards
    CHECK(gp::harmless(std::string("a\0b", 3)) == "a\uFFFDb");
    CHECK(gp::harmless("\xff\xfe") == "\uFFFD\uFFFD");  // not UTF-8
    CHECK(gp::harmless("Łukasz 李 עברית 🎬") == "Łukasz 李 עברית 🎬");
  }
}
