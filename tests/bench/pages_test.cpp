#include "bench/pages.h"

#include <doctest/doctest.h>

TEST_SUITE_BEGIN("bench/pages");

using gp::bench::with_section;

TEST_CASE("a section measured anew takes the old one's place and no other word changes") {
  const std::vector<std::string> order = {"one", "two", "three"};
  std::string page = "# Head\nkept\n";
  page = with_section(page, "one", "first\n", order);
  page = with_section(page, "three", "third\n", order);
  const std::string before = page;
  page = with_section(page, "one", "anew, with <!-- remarks --> in it\n", order);
  CHECK(page.starts_with("# Head\nkept\n"));
  CHECK(page.find("first\n") == std::string::npos);
  CHECK(page.find("anew, with") < page.find("third\n"));
  // and back: byte for byte
  CHECK(with_section(page, "one", "first\n", order) == before);
}

TEST_CASE("a section that was not there comes where the order has it") {
  const std::vector<std::string> order = {"one", "two", "three"};
  std::string page = with_section("head\n", "three", "third\n", order);
  page = with_section(page, "one", "first\n", order);
  page = with_section(page, "two", "second\n", order);
  CHECK(page.find("head\n") == 0);
  CHECK(page.find("first\n") < page.find("second\n"));
  CHECK(page.find("second\n") < page.find("third\n"));
}

TEST_CASE("a table has its first column to the left and the numbers to the right") {
  CHECK(gp::bench::table({"what", "much"}, {{"a", "1"}}) ==
        "| what | much |\n| --- | ---: |\n| a | 1 |\n");
}

TEST_CASE("shares and seconds are told fine enough to be read") {
  CHECK(gp::bench::percent(0.01234) == "1.23 %");
  CHECK(gp::bench::seconds_text(0.0449) == "0.04");
  CHECK(gp::bench::seconds_text(3.14) == "3.1");
  CHECK(gp::bench::seconds_text(128.4) == "128");
}

TEST_SUITE_END();
