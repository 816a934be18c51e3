#include "text/breaks.h"

#include <vector>

#include <doctest/doctest.h>

using Ends = std::vector<std::size_t>;

TEST_SUITE("text/breaks") {
  TEST_CASE("a line may end after a space and after a hyphen, not inside a word or a time") {
    // UAX #14
    gp::Breaks breaks("en");
    CHECK(breaks.lines(u"at 08:10 Anna-Lena") == Ends{3, 9, 14, 18});
    CHECK(breaks.lines(u"") == Ends{});
  }

  TEST_CASE("Thai, which writes no spaces, is broken between its words") {
    gp::Breaks breaks("th");
    // "thank you" + polite word: ขอบคุณ ครับ
    CHECK(breaks.lines(u"ขอบคุณครับ").size() == 2);
  }

  TEST_CASE("a letter and its marks, and a person of several code points, are one character") {
    // UAX #29
    gp::Breaks breaks("en");
    CHECK(breaks.characters(u"e\u0308x") == Ends{2, 3});
    CHECK(breaks.characters(u"👩\u200D🚀") == Ends{5});
    CHECK(breaks.characters(u"नि") == Ends{2});
  }

  TEST_CASE("a language nobody knows breaks lines all the same") {
    gp::Breaks breaks("x-nobody");
    CHECK(breaks.lines(u"a b") == Ends{2, 3});
    gp::Breaks broken("not a tag");
    CHECK(broken.lines(u"a b") == Ends{2, 3});
  }
}
