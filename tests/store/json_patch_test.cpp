#include "store/json_patch.h"

#include "base/random.h"
#include "store/json_diff.h"
#include "store/merge.h"
#include "support/builder.h"
#include "support/seed.h"

#include <doctest/doctest.h>

namespace gp {
namespace {

/// The cases of one published file. \return how many were tried
int try_published(const std::string& name) {
  int tried = 0;
  for (const Document& one :
       Document::parse(test::data_text("published/json-patch/" + name + ".json"))) {
    const bool disabled = one.contains("disabled") && one.at("disabled").get<bool>();
    if (disabled || !one.contains("doc") || !one.contains("patch")) continue;
    ++tried;
    INFO(one.dump());
    if (one.contains("error")) {
      CHECK_THROWS_AS(patched(one.at("doc"), one.at("patch")), PatchError);
    } else {
      const Document after = patched(one.at("doc"), one.at("patch"));
      if (one.contains("expected")) CHECK(same_json(after, one.at("expected")));
    }
  }
  return tried;
}

/// A small random value; lists of objects with ids and lists of words are frequent.
Document random_value(Random& random, int depth) {
  switch (depth == 0 ? random.below(3) : random.below(7)) {
    case 0:
      return random.between(0, 3);
    case 1:
      return "w" + std::to_string(random.below(4));
    case 2:
      return nullptr;
    case 3: {
      Document list = Document::array();
      for (std::uint32_t i = random.below(4); i > 0; --i) {
        list.push_back(random_value(random, depth - 1));
      }
      return list;
    }
    case 4: {
      Document list = Document::array();
      std::vector<int> ids = {0, 1, 2, 3, 4, 5};
      random.shuffle(ids);
      ids.resize(random.below(6));
      for (const int id : ids) {
        list.push_back(
            Document{{"id", "p" + std::to_string(id)}, {"value", random_value(random, depth - 1)}});
      }
      return list;
    }
    default: {
      Document object = Document::object();
      for (std::uint32_t i = random.below(5); i > 0; --i) {
        object["k/~" + std::to_string(random.below(5))] = random_value(random, depth - 1);
      }
      return object;
    }
  }
}

TEST_SUITE_BEGIN("store/json_patch");

TEST_CASE("every example of RFC 6902, appendix A, gives what stands there") {
  CHECK(try_published("spec_tests") >= 15);
}

TEST_CASE("every published test case of JSON Patch is answered right") {
  CHECK(try_published("tests") == 75);
}

TEST_CASE("pointers lead where RFC 6901, section 5, says") {
  const Document document = Document::parse(R"({"foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2,
      "e^f": 3, "g|h": 4, "i\\j": 5, "k\"l": 6, " ": 7, "m~n": 8})");
  CHECK(pointed_at(document, "") == document);
  CHECK(pointed_at(document, "/foo").size() == 2);
  CHECK(pointed_at(document, "/foo/0") == "bar");
  const std::vector<const char*> rest = {
      "/", "/a~1b", "/c%d", "/e^f", "/g|h", "/i\\j", "/k\"l", "/ ", "/m~0n"};
  for (std::size_t i = 0; i < rest.size(); ++i) CHECK(pointed_at(document, rest[i]) == i);
}

TEST_CASE("the difference of any two documents makes the one of the other, and back") {
  Random random(test::seed());
  for (int i = 0; i < 3000; ++i) {
    const Document a = random_value(random, 3);
    const Document b = random_value(random, 3);
    INFO(a.dump() << " and " << b.dump());
    CHECK(same_json(patched(a, difference(a, b)), b));
    CHECK(difference(a, a).empty());
    // a side that changed nothing takes the other's; two equal sides are no collision
    CHECK(same_json(merge(a, a, b).document, b));
    CHECK(same_json(merge(a, b, a).document, b));
    CHECK(merge(a, b, b).collisions.empty());
  }
}

TEST_CASE("a person added at the front of many is one operation") {
  Document before = Document::array();
  for (int i = 0; i < 50; ++i) before.push_back(Document{{"id", "p" + std::to_string(i)}});
  Document after = before;
  after.insert(after.begin(), Document{{"id", "new"}});
  CHECK(difference(before, after).size() == 1);
}

TEST_CASE("two sides that touch different people, or different facts of one, are merged") {
  const Document before =
      Document::parse(R"({"people":[{"id":"a","can":["x"]},{"id":"b","name":"B"}],"title":"T"})");
  const Document theirs = patched(before, Document::parse(R"([
      {"op":"remove","path":"/people/0/can/0"}, {"op":"add","path":"/people/0/can/-","value":"y"},
      {"op":"add","path":"/people/0","value":{"id":"c"}}])"));
  const Document mine = patched(before, Document::parse(R"([
      {"op":"replace","path":"/people/1/name","value":"Bo"},
      {"op":"add","path":"/people/0/phone","value":"1"},
      {"op":"add","path":"/people/-","value":{"id":"d"}}])"));
  const Merged merged = merge(before, theirs, mine);
  CHECK(merged.collisions.empty());
  CHECK(same_json(merged.document, Document::parse(R"({"people":[{"id":"c"},
      {"id":"a","can":["y"],"phone":"1"},{"id":"b","name":"Bo"},{"id":"d"}],"title":"T"})")));
}

TEST_CASE("the same fact changed by both is told with both sides, and so is what one took away") {
  const Document before =
      Document::parse(R"({"people":[{"id":"noor","free":["m 09-13"]},{"id":"bo","name":"Bo"}]})");
  const Document theirs = patched(before, Document::parse(R"([
      {"op":"replace","path":"/people/0/free/0","value":"m 10-13"},
      {"op":"remove","path":"/people/1"}])"));
  const Document mine = patched(before, Document::parse(R"([
      {"op":"replace","path":"/people/0/free/0","value":"m 09-12"},
      {"op":"replace","path":"/people/1/name","value":"Bob"}])"));
  const Merged merged = merge(before, theirs, mine);
  REQUIRE(merged.collisions.size() == 2);
  CHECK(merged.collisions[0].path == "people[noor].free");
  CHECK(merged.collisions[0].theirs == Document::parse(R"(["m 10-13"])"));
  CHECK(merged.collisions[0].mine == Document::parse(R"(["m 09-12"])"));
  CHECK(merged.collisions[1].path == "people[bo]");
  CHECK(merged.collisions[1].theirs.is_null());
}

TEST_SUITE_END();

}  // namespace
}  // namespace gp
