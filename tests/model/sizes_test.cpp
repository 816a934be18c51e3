#include "model/sizes.h"

#include "support/builder.h"

#include <doctest/doctest.h>

using gp::ItemId;
using gp::SizeMatch;

namespace {

/// A helmet of 56 to 58, a bucket that fits every head, and two boots, worn in three looks.
gp::Production wardrobe() {
  return gp::test::production_of(
      R"({"greasepaint": 1, "title": "T", "days": [{"date": "2027-04-17"}],
    "people": [{"id": "small", "sizes": {"head_cm": 55.9}}, {"id": "least", "sizes": {"head_cm": 56}},
               {"id": "most", "sizes": {"head_cm": 58, "shoe": 41}}, {"id": "big", "sizes": {"head_cm": 58.5}},
               {"id": "unmeasured"}],
    "looks": [{"id": "strict", "items": ["helmet"]}, {"id": "lenient", "items": ["crown"]},
              {"id": "both", "items": ["helmet", "boots"]}],
    "items": [{"id": "helmet", "fits": {"head_cm": "56-58"}},
              {"id": "crown", "fits": {"head_cm": 56}, "instead": ["bucket"]}, {"id": "bucket"},
              {"id": "boots", "fits": {"shoe": 41}}]})");
}

SizeMatch of(std::size_t look, std::size_t person) {
  const gp::Production film = wardrobe();
  return gp::size_match(film, film.looks[gp::LookId(look)], film.people[gp::PersonId(person)]);
}

}  // namespace

TEST_SUITE("model/sizes") {
  TEST_CASE("both ends of a range fit, and who was not measured may fit") {
    CHECK(of(0, 0) == SizeMatch::does_not);
    CHECK(of(0, 1) == SizeMatch::fits);
    CHECK(of(0, 2) == SizeMatch::fits);
    CHECK(of(0, 3) == SizeMatch::does_not);
    CHECK(of(0, 4) == SizeMatch::not_known);
  }

  TEST_CASE("what may be worn instead fits in its place; all items of a look must fit") {
    for (std::size_t person = 0; person < 5; ++person) CHECK(of(1, person) == SizeMatch::fits);
    CHECK(of(2, 0) == SizeMatch::does_not);   // the helmet does not, whatever the shoe
    CHECK(of(2, 1) == SizeMatch::not_known);  // the helmet does, the shoe is not known
    CHECK(of(2, 2) == SizeMatch::fits);
  }

  TEST_CASE("a range is read and written as people write it") {
    CHECK(gp::format({56, 58.5}) == "56-58.5");
    CHECK(gp::format({57, 57}) == "57");
    CHECK(gp::parse_size_range("56-58.5") == gp::SizeRange{56, 58.5});
    CHECK(gp::parse_size_range("58-56") == gp::SizeRange{58, 56});
    CHECK(!gp::parse_size_range("56"));
    CHECK(!gp::parse_size_range("56-58 "));
  }
}
