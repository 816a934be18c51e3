#include "base/nearest.h"

#include "base/random.h"
#include "support/seed.h"

#include <algorithm>

#include <doctest/doctest.h>

namespace {

/// The definition itself, without a table: optimal string alignment by recursion.
std::size_t edits_by_definition(std::u32string_view a, std::u32string_view b) {
  if (a.empty() || b.empty()) return a.size() + b.size();
  const std::size_t replaced = a.back() == b.back() ? 0 : 1;
  const auto without = [](std::u32string_view text, std::size_t n) {
    return text.substr(0, text.size() - n);
  };
  std::size_t best = std::min({edits_by_definition(without(a, 1), b) + 1,
                               edits_by_definition(a, without(b, 1)) + 1,
                               edits_by_definition(without(a, 1), without(b, 1)) + replaced});
  if (a.size() > 1 && b.size() > 1 && a.back() == b[b.size() - 2] && b.back() == a[a.size() - 2]) {
    best = std::min(best, edits_by_definition(without(a, 2), without(b, 2)) + 1);
  }
  return best;
}

}  // namespace

TEST_SUITE("base/nearest") {
  const std::vector<std::string> kKeys = {"date", "base", "nobody_before", "first_shot", "wrap_by"};

  TEST_CASE("a slip of the finger finds its name") {
    CHECK(gp::nearest("bas", kKeys) == "base");               // one letter missing
    CHECK(gp::nearest("first_shto", kKeys) == "first_shot");  // two neighbours swapped
    CHECK(gp::nearest("nobody-before", kKeys) == "nobody_before");
    CHECK(gp::nearest("wrap by", kKeys) == "wrap_by");
  }

  TEST_CASE("upper and lower case are no difference, in Latin, Greek and Cyrillic") {
    CHECK(gp::nearest("DATE", kKeys) == "date");
    CHECK(gp::nearest("ЙОРИК", {"Йорик"}) == "Йорик");
    CHECK(gp::nearest("ΑΝΝΑ", {"αννα"}) == "αννα");
    CHECK(gp::nearest("ZOË", {"zoe", "zoë"}) == "zoë");  // the same but for case goes first
    CHECK(gp::nearest("Ёж", {"ёж"}) == "ёж");
  }

  TEST_CASE("nothing is named where nothing is near") {
    CHECK(gp::nearest("xyzzy", kKeys) == "");
    CHECK(gp::nearest("", kKeys) == "");
    CHECK(gp::nearest("li", {"bo"}) == "");  // two letters, one edit is too much
    CHECK(gp::nearest("date", {}) == "");
  }

  TEST_CASE("the beginning of a name finds it") {
    CHECK(gp::nearest("nobody", kKeys) == "nobody_before");
    CHECK(gp::nearest("wr", kKeys) == "");
  }

  TEST_CASE("of two equally near the first is named") {
    CHECK(gp::nearest("cast", {"case", "cost"}) == "case");
    CHECK(gp::nearest("cast", {"cost", "case"}) == "cost");
  }

  TEST_CASE("a name above 64 characters is near to nothing") {
    const std::string huge(100'000, 'a');
    CHECK(gp::nearest(huge, {std::string(100'000, 'a')}) == "");
    CHECK(gp::nearest(std::string(64, 'a'), {std::string(63, 'a')}) == std::string(63, 'a'));
  }

  TEST_CASE("random: the table counts as the definition does [brute force]") {
    gp::Random random(gp::test::seed());
    for (int round = 0; round < 2000; ++round) {
      std::u32string a;
      std::u32string b;
      for (std::size_t i = random.below(6); i > 0; --i) a += U"abc"[random.index(3)];
      for (std::size_t i = random.below(6); i > 0; --i) b += U"abc"[random.index(3)];
      const std::size_t expected = edits_by_definition(a, b);
      CHECK(gp::edits(a, b, 64) == expected);
      for (std::size_t most = 0; most < 4; ++most) {
        CHECK(gp::edits(a, b, most) == std::min(expected, most + 1));
      }
    }
  }
}
