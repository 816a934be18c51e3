#include "base/json.h"
#include "model/read_production.h"

#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <string>

#include <doctest/doctest.h>

// The seeds of the fuzzers (tests/fuzz), among them every file that once made something fall, read
// on every run of the tests.

TEST_SUITE("model/reader_corpus") {
  TEST_CASE("every file of the fuzzers' corpus is read or told") {
    std::set<std::filesystem::path> files;
    const std::filesystem::path corpus = GP_SOURCE_DIR "/tests/fuzz/corpus";
    for (const auto& entry : std::filesystem::recursive_directory_iterator(corpus)) {
      if (entry.is_regular_file()) files.insert(entry.path());
    }
    REQUIRE(files.size() >= 10);
    for (const auto& path : files) {
      CAPTURE(path.string());
      std::ifstream file(path, std::ios::binary);
      std::ostringstream bytes;
      bytes << file.rdbuf();
      const std::string text = bytes.str();
      for (const gp::Fault& fault : gp::read_json(text).faults) {
        CHECK(gp::render(fault, "f.json", text).ends_with("\n"));
      }
      const auto read = gp::read_production(text);
      if (const auto* faults = std::get_if<std::vector<gp::Fault>>(&read)) {
        CHECK(!faults->empty());
        for (const gp::Fault& fault : *faults) {
          CHECK(gp::render(fault, "f.json", text).ends_with("\n"));
        }
      } else {
        const auto& film = std::get<gp::Production>(read);
        const auto again = gp::read_production(gp::write_production(film));
        REQUIRE(std::holds_alternative<gp::Production>(again));
        CHECK(std::get<gp::Production>(again) == film);
      }
    }
  }
}
