#include "cli/flow.h"

#include "text/width.h"

#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

TEST_SUITE("cli/flow") {
  TEST_CASE("names go on in the next line where the first one ends") {
    // room for 20 - 4 = 16 cells a line: "Ada, Ben, Cleo," is 15
    CHECK(gp::flow({"Ada", "Ben", "Cleo", "Dmitri"}, ",", 4, 20) == "Ada, Ben, Cleo,\n    Dmitri");
    CHECK(gp::flow({}, ",", 4, 20).empty());
    CHECK(gp::flow({"Ada"}, ",", 4, 20) == "Ada");
  }

  TEST_CASE("a name is never broken, only cut when it is wider than a whole line") {
    CHECK(gp::flow({"Ada Byron", "Ben Okri"}, ";", 0, 14) == "Ada Byron;\nBen Okri");
    CHECK(gp::flow({"Constantinopolitanische"}, ",", 0, 12) == "Constantino…");
  }

  TEST_CASE("wide and combining characters are counted in cells") {
    // 李小龍 takes six cells: two of them with a comma and a space between are 14
    CHECK(gp::flow({"李小龍", "李小龍"}, ",", 0, 14) == "李小龍, 李小龍");
    CHECK(gp::flow({"李小龍", "李小龍"}, ",", 0, 13) == "李小龍,\n李小龍");
    CHECK(gp::padded("李", 4) == "李  ");
    CHECK(gp::padded("Zoe\u0308", 4) == "Zoe\u0308 ");
    CHECK(gp::padded_left("7", 3) == "  7");
    CHECK(gp::padded("longer", 3) == "longer");
  }

  TEST_CASE("no line is wider than asked, whatever the width") {
    const std::string text =
        "needs 9 painted by 09:30; two painters at 20 minutes each need from 08:00; nobody may be "
        "called before 08:30";
    for (std::size_t width = 20; width < 100; width += 7) {
      std::istringstream lines("    " + gp::flow_text(text, 4, width));
      for (std::string line; std::getline(lines, line);) {
        CAPTURE(width);
        CAPTURE(line);
        CHECK(gp::cells(line) <= width);
      }
    }
  }

  TEST_CASE("a sentence keeps all its words") {
    CHECK(gp::flow_text("  one  two three ", 0, 80) == "one two three");
    CHECK(gp::flow_text("", 0, 80).empty());
  }
}
