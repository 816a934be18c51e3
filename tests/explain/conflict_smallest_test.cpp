#include "base/random.h"
#include "explain/conflict/smallest.h"
#include "support/seed.h"

#include <algorithm>
#include <bit>
#include <cstdint>
#include <vector>

#include <doctest/doctest.h>

using gp::conflict::InForce;
using gp::conflict::SmallestFinder;
using gp::conflict::SmallestSet;
using gp::conflict::Verdict;

namespace {

using Bits = std::uint32_t;

Bits bits_of(const InForce& in_force) {
  Bits bits = 0;
  for (std::size_t i = 0; i < in_force.size(); ++i) {
    if (in_force[i] != 0) bits |= Bits{1} << i;
  }
  return bits;
}
Bits bits_of(const std::vector<std::size_t>& facts) {
  Bits bits = 0;
  for (const std::size_t fact : facts) bits |= Bits{1} << fact;
  return bits;
}

}  // namespace

TEST_SUITE("explain/conflict_smallest") {
  TEST_CASE("the smallest of made-up conflicts is found, against every subset") {
    gp::Random random(gp::test::seed());
    int ambiguous = 0;
    for (int round = 0; round < 400; ++round) {
      const auto facts = static_cast<std::size_t>(random.between(1, 11));
      std::vector<Bits> conflicts;  // impossible: holds one of these
      const int many = random.between(1, 6);
      for (int c = 0; c < many; ++c) {
        Bits set = 0;
        const int size = random.between(1, 5);
        for (int k = 0; k < size; ++k) set |= Bits{1} << random.index(facts);
        conflicts.push_back(set);
      }
      const auto impossible = [&](Bits in_force) {
        return std::any_of(
            conflicts.begin(), conflicts.end(), [&](Bits set) { return (set & ~in_force) == 0; });
      };
      gp::Stop never;
      SmallestFinder finder(
          facts,
          [&](const InForce& in_force) {
            return impossible(bits_of(in_force)) ? Verdict::impossible : Verdict::possible;
          },
          100'000,
          never);
      const SmallestSet found = finder.find();
      const Bits set = bits_of(found.facts);
      CHECK(impossible(set));
      for (std::size_t i = 0; i < found.facts.size(); ++i) {
        CHECK(!impossible(set & ~(Bits{1} << found.facts[i])));
        CHECK(found.needed[i] == 1);
      }
      int least = 99;
      int of_least = 0;
      for (Bits all = 0; all < Bits{1} << facts; ++all) {
        if (!impossible(all)) continue;
        const int size = std::popcount(all);
        if (size < least) of_least = 0;
        least = std::min(least, size);
        if (size == least) ++of_least;
      }
      CHECK(found.smallest);
      CHECK(std::popcount(set) == least);
      if (of_least > 1) ++ambiguous;
      // What is loosened together makes it possible, and none of it is too much.
      const auto together = finder.loosen_together(found.facts);
      const Bits whole = (Bits{1} << facts) - 1;
      const Bits loose = bits_of(together);
      CHECK(!impossible(whole & ~loose));
      for (const std::size_t fact : together) {
        CHECK(impossible((whole & ~loose) | (Bits{1} << fact)));
      }
    }
    CHECK(ambiguous > 20);
  }

  TEST_CASE("an oracle that does not always know never makes a false claim") {
    gp::Random random(gp::test::seed() + 1);
    int claimed = 0;
    for (int round = 0; round < 300; ++round) {
      const auto facts = static_cast<std::size_t>(random.between(2, 9));
      const Bits one = (Bits{1} << random.index(facts)) | (Bits{1} << random.index(facts));
      const Bits two = (Bits{1} << random.index(facts)) | (Bits{1} << random.index(facts)) |
                       (Bits{1} << random.index(facts));
      const Bits whole = (Bits{1} << facts) - 1;
      std::vector<char> unknown(std::size_t{1} << facts, 0);
      for (char& blank : unknown) blank = random.chance(1, 5) ? 1 : 0;
      unknown[whole] = 0;
      unknown[0] = 0;
      const auto impossible = [&](Bits in_force) {
        return (one & ~in_force) == 0 || (two & ~in_force) == 0;
      };
      gp::Stop never;
      SmallestFinder finder(
          facts,
          [&](const InForce& in_force) {
            const Bits bits = bits_of(in_force);
            if (unknown[bits] != 0) return Verdict::unknown;
            return impossible(bits) ? Verdict::impossible : Verdict::possible;
          },
          100'000,
          never);
      const SmallestSet found = finder.find();
      const Bits set = bits_of(found.facts);
      CHECK(impossible(set));
      for (std::size_t i = 0; i < found.facts.size(); ++i) {
        if (found.needed[i] != 0) CHECK(!impossible(set & ~(Bits{1} << found.facts[i])));
      }
      if (!found.smallest) continue;
      ++claimed;
      CHECK(std::popcount(set) == std::min(std::popcount(one), std::popcount(two)));
    }
    CHECK(claimed > 100);
  }
}
