#include "text/direction.h"

#include "text/clean.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::BaseDirection;
using Numbers = std::vector<std::size_t>;

TEST_SUITE("text/direction") {
  TEST_CASE("numbers inside a sentence from right to left run from left to right") {
    // UAX #9: the paragraph's level is 1, digits in it are level 2.
    const gp::Levels levels = gp::levels_of(u"שלום 12", BaseDirection::by_first_strong);
    CHECK(levels.right_to_left);
    CHECK(levels.at == std::vector<std::uint8_t>{1, 1, 1, 1, 1, 2, 2});
  }

  TEST_CASE("a name from right to left between our words keeps to itself") {
    const std::u16string text = u"at " + gp::isolated("נועה 2") + u" (1)";
    const gp::Levels levels = gp::levels_of(text, BaseDirection::left_to_right);
    CHECK_FALSE(levels.right_to_left);
    CHECK(levels.at.front() == 0);
    CHECK(levels.at.back() == 0);  // without the isolate, "(1)" would join the name
    CHECK(levels.at[4] == 1);
  }

  TEST_CASE("runs of one line are put in the order in which they are seen") {
    // UAX #9, rule L2: from the highest level to the lowest odd one, runs are reversed.
    CHECK(gp::visual_order({0, 1, 0}) == Numbers{0, 1, 2});
    CHECK(gp::visual_order({1, 2, 1}) == Numbers{2, 1, 0});
    CHECK(gp::visual_order({0, 1, 2, 1, 0}) == Numbers{0, 3, 2, 1, 4});
    CHECK(gp::visual_order({}).empty());
  }

  TEST_CASE("a text is parted where its script changes, and spaces go with what is before them") {
    const auto runs = gp::script_runs(u"Ana Артём 李");
    REQUIRE(runs.size() == 3);
    CHECK(runs[0].script == "Latn");
    CHECK(runs[0].until == 4);
    CHECK(runs[1].script == "Cyrl");
    CHECK(runs[2].script == "Hani");
    CHECK(runs[2].name == "Han");
  }

  TEST_CASE("digits before a word go with the word, and a text of signs alone has no script") {
    const auto runs = gp::script_runs(u"12 عربية");
    REQUIRE(runs.size() == 1);
    CHECK(runs[0].script == "Arab");
    CHECK(gp::script_runs(u"12:30")[0].script == "Zyyy");
    CHECK(gp::script_runs(u"").empty());
  }
}
