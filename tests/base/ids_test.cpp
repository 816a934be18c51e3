#include "base/ids.h"

#include <string>
#include <type_traits>
#include <vector>

#include <doctest/doctest.h>

TEST_SUITE("base/ids") {
  TEST_CASE("an id of one kind is not an id of another, nor a number") {
    CHECK_FALSE(std::is_convertible_v<gp::PersonId, gp::SceneId>);
    CHECK_FALSE(std::is_constructible_v<gp::SceneId, gp::PersonId>);
    CHECK_FALSE(std::is_convertible_v<std::size_t, gp::PersonId>);
    CHECK_FALSE(std::is_convertible_v<gp::PersonId, std::size_t>);
  }

  TEST_CASE("an id not given is none, and none comes before all others") {
    CHECK_FALSE(gp::PlaceId().valid());
    CHECK(gp::PlaceId(0).valid());
    CHECK(gp::PlaceId() < gp::PlaceId(0));
    CHECK(gp::PlaceId(0) < gp::PlaceId(1));
    CHECK(gp::PlaceId(3).index() == 3);
  }

  TEST_CASE("a table gives ids in order and takes only its own") {
    gp::Table<gp::ItemId, std::string> items;
    CHECK(items.empty());
    const gp::ItemId helmet = items.add("helmet");
    const gp::ItemId bucket = items.add("bucket");
    CHECK(items[helmet] == "helmet");
    CHECK(items[bucket] == "bucket");
    std::vector<gp::ItemId> seen;
    for (const gp::ItemId id : items.ids()) seen.push_back(id);
    CHECK(seen == std::vector<gp::ItemId>{helmet, bucket});
    const gp::Table<gp::ItemId, int> counts(2, 7);
    CHECK(counts[bucket] == 7);
  }
}
