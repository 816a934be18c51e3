#include "base/random.h"
#include "model/read_production.h"
#include "support/changed_production.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <chrono>
#include <string>
#include <vector>

#include <doctest/doctest.h>

// Any bytes are safe to give. These are a plain test's share; tests/fuzz looks further.

namespace {

/// Small damage of many kinds: bytes turned, cut out, put in, pieces doubled or swapped in from
/// elsewhere.
std::string damaged(std::string text, gp::Random& random) {
  static const std::vector<std::string> kPieces = {"\"",
                                                   "{",
                                                   "}",
                                                   "[",
                                                   "]",
                                                   ",",
                                                   ":",
                                                   "\\",
                                                   "\\ud800",
                                                   "null",
                                                   "true",
                                                   "-1",
                                                   "1e999",
                                                   "99999999999",
                                                   "\"\"",
                                                   "{}",
                                                   "[]",
                                                   "[[",
                                                   "\xFF",
                                                   "\xF0\x9F\x8E\xAC",
                                                   std::string(1, '\0'),
                                                   "\"99:59\"",
                                                   "\"00:00-99:59\"",
                                                   "\"2027-02-30\"",
                                                   "\"id\":",
                                                   "\"after\":[\"a\"]",
                                                   "//",
                                                   "'"};
  for (std::size_t times = 1 + random.index(4); times > 0; --times) {
    const std::size_t at = random.index(text.size() + 1);
    switch (random.below(6)) {
      case 0:
        if (at < text.size()) {
          text[at] =
              static_cast<char>(static_cast<unsigned char>(text[at]) ^ (1U << random.below(8)));
        }
        break;
      case 1:
        if (at < text.size()) text.erase(at, 1 + random.index(20));
        break;
      case 2:
        text.insert(at, kPieces[random.index(kPieces.size())]);
        break;
      case 3:
        text.insert(at, text.substr(random.index(text.size() + 1), random.index(200)));
        break;
      case 4:
        if (random.chance(1, 5)) text.resize(at);
        break;
      default: {
        const std::size_t size = random.index(30);
        const std::string piece = text.substr(random.index(text.size() + 1), size);
        if (at < text.size()) text.replace(at, size, piece);
        break;
      }
    }
  }
  return text;
}

void check_told(const std::vector<gp::Fault>& faults, const std::string& text) {
  REQUIRE(!faults.empty());
  REQUIRE(faults.size() <= 1001);
  std::size_t line = 0;
  for (std::size_t i = 0; i < faults.size(); ++i) {
    const gp::Fault& fault = faults[i];
    REQUIRE(!fault.found.empty());
    REQUIRE(!fault.expected.empty());
    if (i + 1 < faults.size()) {  // the last may be about the file as a whole
      REQUIRE(fault.line >= line);
      line = fault.line;
    }
    REQUIRE(fault.found.size() < 1000);
    REQUIRE(fault.path.size() < 8000);
    if (i < 3) REQUIRE(gp::render(fault, "f.json", text).ends_with("\n"));
  }
}

}  // namespace

TEST_SUITE("model/reader_bad_input") {
  TEST_CASE("random: 20 000 damaged productions are read or told, never crashed on") {
    gp::Random random(gp::test::seed());
    std::vector<std::string> sources = {gp::test::production_text("lighthouse"),
                                        gp::test::production_text("least")};
    for (std::uint64_t i = 0; i < 20; ++i) {
      sources.push_back(gp::test::random_production(i, gp::test::ProductionSize::tiny()));
    }
    int read = 0;
    int told = 0;
    for (int round = 0; round < 20'000; ++round) {
      const std::string text = damaged(sources[random.index(sources.size())], random);
      const auto result = gp::read_production(text);
      if (const auto* faults = std::get_if<std::vector<gp::Fault>>(&result)) {
        check_told(*faults, text);
        ++told;
      } else {
        const auto& film = std::get<gp::Production>(result);
        const auto again = gp::read_production(gp::write_production(film));
        REQUIRE(std::holds_alternative<gp::Production>(again));
        REQUIRE(std::get<gp::Production>(again) == film);
        ++read;
      }
    }
    CHECK(told > 10'000);
    CHECK(read > 100);
  }

  TEST_CASE("random bytes, and no bytes, are told") {
    gp::Random random(gp::test::seed());
    for (int round = 0; round < 2000; ++round) {
      std::string text;
      for (std::size_t i = random.index(60); i > 0; --i) {
        text += static_cast<char>(random.below(random.chance(1, 2) ? 128 : 256));
      }
      const auto result = gp::read_production(text);
      REQUIRE(std::holds_alternative<std::vector<gp::Fault>>(result));
      check_told(std::get<std::vector<gp::Fault>>(result), text);
    }
  }

  TEST_CASE("files made to cost much cost little") {
    // Each at a limit of its own. Together they take about a second of a release build; the time is
    // not asserted tightly because of sanitizers, but a quadratic slip would take minutes.
    const auto before = std::chrono::steady_clock::now();
    const std::string head =
        R"({"greasepaint": 1, "title": "x", "days": [{"date": "2027-04-17"}], )";
    const auto list = [](std::size_t count, const auto& entry) {
      std::string result = "[";
      for (std::size_t i = 0; i < count; ++i) result += (i > 0 ? "," : "") + entry(i);
      return result + "]";
    };
    const auto id = [](std::size_t i) { return "{\"id\":\"name" + std::to_string(i) + "\"}"; };
    const std::string people = "\"people\":" + list(5000, id);
    std::vector<std::string> texts;
    // ids that dangle by thousands, each with thousands to be compared with
    texts.push_back(head + people + ",\"stations\":" +
                    list(5000,
                         [](std::size_t i) {
                           return "{\"id\":\"s" + std::to_string(i) + "\",\"staff\":[\"nmae" +
                                  std::to_string(i) + "\"]}";
                         }) +
                    "}");
    // parts nobody may play, by thousands, with thousands who may not
    texts.push_back(head + people + ",\"roles\":" +
                    list(5000,
                         [](std::size_t i) {
                           return "{\"id\":\"r" + std::to_string(i) + "\",\"needs\":[\"fly\"]}";
                         }) +
                    "}");
    // a circle of thousands, and everything after everything
    texts.push_back(head + "\"scenes\":" +
                    list(5000,
                         [](std::size_t i) {
                           return "{\"id\":\"s" + std::to_string(i) + "\",\"after\":[\"s" +
                                  std::to_string((i + 4999) % 5000) + "\"]}";
                         }) +
                    "}");
    texts.push_back(
        head + "\"scenes\":" +
        list(400,
             [&](std::size_t i) {
               return "{\"id\":\"s" + std::to_string(i) + "\",\"after\":" +
                      list(400, [](std::size_t j) { return "\"s" + std::to_string(j) + "\""; }) +
                      "}";
             }) +
        "}");
    // unknown keys by hundreds of thousands, one key as long as a book, the same key again and
    // again
    std::string keys;
    for (int i = 0; i < 200'000; ++i) keys += "\"k" + std::to_string(i) + "\":0,";
    texts.push_back(head + keys + "\"x\":0}");
    texts.push_back(head + "\"" + std::string(5'000'000, 'k') + "\":0}");
    std::string doubled;
    for (int i = 0; i < 200'000; ++i) doubled += "\"people\":0,";
    texts.push_back(head + doubled + "\"x\":0}");
    // the same free time again and again
    texts.push_back(head + "\"people\":[{\"id\":\"a\",\"free\":" +
                    list(5000, [](std::size_t) { return std::string("\"2027-04-17\""); }) + "}]}");
    // one text of megabytes where an id should be, referred to from everywhere
    const std::string huge = "\"" + std::string(1'000'000, 'i') + "\"";
    texts.push_back(head + "\"people\":[{\"id\":" + huge + ",\"guardian\":" + huge + "}]}");
    for (const std::string& text : texts) {
      const auto result = gp::read_production(text);
      REQUIRE(std::holds_alternative<std::vector<gp::Fault>>(result));
      check_told(std::get<std::vector<gp::Fault>>(result), text);
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - before;
    MESSAGE("read in " << took.count() << " s");
    CHECK(took.count() < 60);
  }
}
