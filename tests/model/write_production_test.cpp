#include "base/random.h"
#include "model/read_production.h"
#include "support/changed_production.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>

#include <doctest/doctest.h>

namespace {

/// What is read from a text; the faults are shown where there are some.
gp::Production read(const std::string& text) {
  auto result = gp::read_production(text);
  if (const auto* faults = std::get_if<std::vector<gp::Fault>>(&result)) {
    for (const gp::Fault& fault : *faults) MESSAGE(gp::render(fault, "text", text));
  }
  REQUIRE(std::holds_alternative<gp::Production>(result));
  return std::get<gp::Production>(std::move(result));
}

void check_round_trip(const std::string& text) {
  const gp::Production film = read(text);
  const std::string written = gp::write_production(film);
  CHECK(read(written) == film);
  CHECK(gp::write_production(read(written)) == written);
}

}  // namespace

TEST_SUITE("model/write_production") {
  TEST_CASE("the least production is written as it is") {
    CHECK(gp::write_production(read(gp::test::production_text("least"))) ==
          "{\n"
          "  \"greasepaint\": 1,\n"
          "  \"title\": \"Least\",\n"
          "  \"days\": [\n"
          "    {\"date\": \"2027-04-17\"}\n"
          "  ]\n"
          "}\n");
  }

  TEST_CASE("keys come in the order of the format, an entry a line, defaults left out") {
    std::string text =
        R"({"scenes": [{"notes": "n", "worth": 1, "id": "s", "light": "any", "after": [],
      "cast": [{"people": 1, "role": "r"}]}], "roles": [{"look": "any", "id": "r", "crowd": false}],
      "round_to": 5, "people": [{"free": [], "id": "a", "answer": "yes", "weight": 0.125,
      "sizes": {"b": 1, "a": 2.5}}], "units": [{"id": "main"}],
      "days": [{"nobody_before": "00:00", "date": "2027-04-17", "meals": []}],
      "title": "x", "zone": "UTC", "greasepaint": 1})";
    CHECK(
        gp::write_production(read(text)) ==
        "{\n"
        "  \"greasepaint\": 1,\n"
        "  \"title\": \"x\",\n"
        "  \"days\": [\n"
        "    {\"date\": \"2027-04-17\"}\n"
        "  ],\n"
        "  \"people\": [\n"
        "    {\"id\": \"a\", \"free\": [], \"weight\": 0.125, \"sizes\": {\"a\": 2.5, \"b\": 1}}\n"
        "  ],\n"
        "  \"roles\": [\n"
        "    {\"id\": \"r\", \"look\": \"any\"}\n"
        "  ],\n"
        "  \"scenes\": [\n"
        "    {\"id\": \"s\", \"cast\": [{\"role\": \"r\"}], \"notes\": \"n\"}\n"
        "  ]\n"
        "}\n");
  }

  TEST_CASE("likes and sizes an item fits are written in their places, equal sizes as one number") {
    CHECK(gp::write_production(read(
              R"({"greasepaint": 1, "title": "x", "days": [{"date": "2027-04-17"}],
                  "people": [{"id": "a", "weight": 2, "likes": ["r", "b", "lamp"], "no": ["n"]}, {"id": "b"}],
                  "roles": [{"id": "r"}], "units": [{"id": "main", "crew": [{"job": "lamp"}]}],
                  "items": [{"id": "i", "fits": {"shoe": "41-42.5", "head": "57.0-57", "hand": 8}}]})")) ==
          "{\n"
          "  \"greasepaint\": 1,\n"
          "  \"title\": \"x\",\n"
          "  \"days\": [\n"
          "    {\"date\": \"2027-04-17\"}\n"
          "  ],\n"
          "  \"people\": [\n"
          "    {\"id\": \"a\", \"no\": [\"n\"], \"likes\": [\"r\", \"b\", \"lamp\"], \"weight\": "
          "2},\n"
          "    {\"id\": \"b\"}\n"
          "  ],\n"
          "  \"roles\": [\n"
          "    {\"id\": \"r\"}\n"
          "  ],\n"
          "  \"items\": [\n"
          "    {\"id\": \"i\", \"fits\": {\"hand\": 8, \"head\": 57, \"shoe\": \"41-42.5\"}}\n"
          "  ],\n"
          "  \"units\": [\n"
          "    {\"id\": \"main\", \"crew\": [{\"job\": \"lamp\"}]}\n"
          "  ]\n"
          "}\n");
  }

  TEST_CASE("a production with every key comes back the same") {
    check_round_trip(gp::test::production_text("lighthouse"));
  }

  TEST_CASE(
      "a unit of another name, an empty staff list and a name beyond ASCII come back the same") {
    check_round_trip(R"({"greasepaint": 1, "title": "„Ōkami“ \"狼\" \\", "days": [)"
                     R"({"date": "2027-04-17"}], "units": [{"id": "table"}], )"
                     R"("stations": [{"id": "s", "staff": []}], "scenes": [{"id": "a"}]})");
    check_round_trip(gp::test::changed("/units", R"([{"id": "main", "name": "Main"}])", "least"));
  }

  TEST_CASE("every demo comes back the same") {
    int demos = 0;
    std::set<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(GP_SOURCE_DIR "/demo")) {
      if (entry.path().extension() == ".json") files.insert(entry.path());
    }
    for (const auto& path : files) {
      std::ifstream file(path);
      std::ostringstream text;
      text << file.rdbuf();
      if (text.str().find("\"greasepaint\"") == std::string::npos) continue;  // a plan
      CAPTURE(path.string());
      check_round_trip(text.str());
      ++demos;
    }
    CHECK(demos >= 1);
  }

  TEST_CASE("random: productions come back the same") {
    const gp::test::ProductionSize sizes[] = {gp::test::ProductionSize::tiny(),
                                              gp::test::ProductionSize::small(),
                                              gp::test::ProductionSize::medium()};
    for (std::uint64_t round = 0; round < 300; ++round) {
      CAPTURE(round);
      check_round_trip(gp::test::random_production(gp::test::seed() + round, sizes[round % 3]));
    }
  }

  TEST_CASE("random: what is left of a production when things are taken out comes back the same") {
    // lines of the written form are entries: take some out, keep what is still a production
    const std::string whole = gp::write_production(read(gp::test::production_text("lighthouse")));
    std::vector<std::string> lines;
    std::istringstream stream(whole);
    for (std::string line; std::getline(stream, line);) lines.push_back(line);
    gp::Random random(gp::test::seed());
    int good = 0;
    for (int round = 0; round < 3000; ++round) {
      const std::size_t from = random.index(lines.size());
      const std::size_t until = std::min(lines.size(), from + 1 + random.index(3));
      std::string text;
      for (std::size_t i = 0; i < lines.size(); ++i) {
        if (i < from || i >= until) text += lines[i] + "\n";
      }
      const auto result = gp::read_production(text);
      if (!std::holds_alternative<gp::Production>(result)) continue;
      ++good;
      const auto& film = std::get<gp::Production>(result);
      const auto again = gp::read_production(gp::write_production(film));
      REQUIRE(std::holds_alternative<gp::Production>(again));
      REQUIRE(std::get<gp::Production>(again) == film);
    }
    CHECK(good > 100);
  }
}
