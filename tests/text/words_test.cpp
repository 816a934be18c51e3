#include "text/words.h"

#include "base/errors.h"
#include "support/temporary_folder.h"
#include "text/clean.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <string>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

namespace {

const std::string kFolder = std::string(GP_SOURCE_DIR) + "/templates/words";

/// Without the marks that keep a name's direction to itself (U+2068, U+2069).
std::string bare(const std::string& text) {
  std::string out;
  for (const char16_t unit : gp::to_utf16(text)) {
    if (unit == 0x2068 || unit == 0x2069) continue;
    out += gp::to_utf8(std::u16string(1, unit == 0xA0 ? u' ' : unit));
  }
  return out;
}

void flatten(const nlohmann::json& value,
             const std::string& key,
             std::map<std::string, std::string>& out) {
  if (value.is_string()) {
    out[key] = value.get<std::string>();
    return;
  }
  for (const auto& [name, inner] : value.items()) {
    flatten(inner, key.empty() ? name : key + "." + name, out);
  }
}

std::map<std::string, std::string> file_of(const std::string& language) {
  std::ifstream file(kFolder + "/" + language + ".json");
  std::map<std::string, std::string> out;
  flatten(nlohmann::json::parse(file), "", out);
  return out;
}

std::set<std::string> places_in(const std::string& sentence) {
  std::set<std::string> names;
  for (std::size_t at = sentence.find('{'); at != std::string::npos;
       at = sentence.find('{', at + 1)) {
    const std::size_t end = sentence.find_first_of(",} ", at + 1);
    const std::string name = sentence.substr(at + 1, end - at - 1);
    // In a plural's choices stand sentences, not names.
    if (!name.empty() &&
        name.find_first_not_of("abcdefghijklmnopqrstuvwxyz_") == std::string::npos &&
        sentence[end] != ' ') {
      names.insert(name);
    }
  }
  return names;
}

}  // namespace

TEST_SUITE("text/words") {
  TEST_CASE("one person and two people, in each language's own plural") {
    gp::WordBook book(kFolder);
    auto people = [&](const char* language, std::int64_t count) {
      return bare(book.in(language).say("sheet.people", {{"count", count}}));
    };
    CHECK(people("en", 1) == "1 person");
    CHECK(people("en", 2) == "2 people");
    CHECK(people("de", 1) == "1 Person");
    CHECK(people("de", 38) == "38 Personen");
    // CLDR's plural rules: in French 0 is "one", in Spanish it is "other".
    CHECK(people("fr", 0) == "0 personne");
    CHECK(people("es", 0) == "0 personas");
  }

  TEST_CASE("a name in a sentence is kept apart from it, and its marks are left out") {
    gp::WordBook book(kFolder);
    CHECK(book.in("en").say("sheet.guardian", {{"name", std::string("\xE2\x80\xAEנועה")}}) ==
          "with \xE2\x81\xA8נועה\xE2\x81\xA9");
    // Braces and apostrophes are letters like others in a name.
    CHECK(bare(book.in("en").say("sheet.guardian", {{"name", std::string("O'Brien {x}")}})) ==
          "with O'Brien {x}");
  }

  TEST_CASE("a dialect is answered by its language, a language without words by English") {
    gp::WordBook book(kFolder);
    CHECK(book.in("de-AT").language() == "de");
    CHECK(book.in("ga").language() == "en");
    CHECK(book.speaks("fr-CA"));
    CHECK_FALSE(book.speaks("ga"));
    CHECK_FALSE(book.speaks(""));
    CHECK_FALSE(book.speaks("../words/en"));
  }

  TEST_CASE("what a language lacks is said in English") {
    const gp::test::TemporaryFolder folder;
    std::filesystem::copy_file(kFolder + "/en.json", folder.file("en.json"));
    std::ofstream(folder.file("eo.json")) << R"({"day": {"wrap": "Fino"}})";
    gp::WordBook book(folder.path().string());
    CHECK(book.in("eo").say("day.wrap") == "Fino");
    CHECK(book.in("eo").say("day.scenes") == "Scenes");
    CHECK_THROWS_AS(static_cast<void>(book.in("eo").say("no.such.key")), gp::InternalError);
  }

  TEST_CASE("missing and broken files of words say what to do") {
    const gp::test::TemporaryFolder folder;
    CHECK_THROWS_WITH_AS(gp::WordBook(folder.path().string()),
                         doctest::Contains("install the program again"),
                         gp::WorldError);
    std::ofstream(folder.file("en.json")) << "{\"day\": {\n\"wrap\": 3}}";
    CHECK_THROWS_WITH_AS(
        gp::WordBook(folder.path().string()), doctest::Contains("line 2"), gp::WorldError);
    std::ofstream(folder.file("en.json")) << "{\"day\": ";
    CHECK_THROWS_AS(gp::WordBook(folder.path().string()), gp::WorldError);
  }

  TEST_CASE("a language says only what English says, with the same places for values") {
    const auto english = file_of("en");
    for (const auto& entry : std::filesystem::directory_iterator(kFolder)) {
      const std::string language = entry.path().stem().string();
      CAPTURE(language);
      std::size_t said = 0;
      for (const auto& [key, sentence] : file_of(language)) {
        const std::string& name = key;
        CAPTURE(name);
        REQUIRE(english.contains(key));
        CHECK(places_in(sentence) == places_in(english.at(key)));
        // An ASCII apostrophe is a quote in ICU's message format and would swallow what follows.
        CHECK(sentence.find('\'') == std::string::npos);
        CHECK_FALSE(sentence.empty());
        ++said;
      }
      // Everything printed is there; warnings for who runs the command are in English.
      const auto english_only = std::count_if(english.begin(), english.end(), [](const auto& one) {
        return one.first.starts_with("warning.") || one.first.starts_with("day.cut");
      });
      CHECK(said >= english.size() - static_cast<std::size_t>(english_only));
    }
  }

  TEST_CASE("every sentence of every language can be said") {
    gp::WordBook book(kFolder);
    std::vector<gp::WordValue> values;
    for (const char* name : {"count", "page", "pages", "day", "days", "place"}) {
      values.push_back({name, std::int64_t{2}});
    }
    for (const char* name : {"name",
                             "meal",
                             "what",
                             "scene",
                             "role",
                             "job",
                             "look",
                             "station",
                             "time",
                             "item",
                             "text",
                             "date",
                             "label",
                             "character",
                             "package"}) {
      values.push_back({name, std::string("Zoë")});
    }
    for (const char* language : {"en", "de", "fr", "es"}) {
      for (const auto& [key, sentence] : file_of(language)) {
        const std::string& name = key;
        CAPTURE(name);
        const std::string said = book.in(language).say(key, values);
        CHECK_FALSE(said.empty());
        CHECK(said.find('{') == std::string::npos);
      }
    }
  }

  TEST_CASE(
      "every hazard has a caution, long for the wall and brief for a slip, in every language") {
    for (const char* language : {"en", "de", "fr", "es"}) {
      const auto words = file_of(language);
      // The format's known hazards, then what looks, people and places bring.
      for (const char* hazard : {"fog",
                                 "water",
                                 "fire",
                                 "height",
                                 "vehicle",
                                 "replica-weapon",
                                 "flashing-light",
                                 "lifting",
                                 "heat",
                                 "cold",
                                 "latex",
                                 "glitter",
                                 "food",
                                 "animals",
                                 "power",
                                 "face-paint",
                                 "painting",
                                 "children",
                                 "weather"}) {
        CAPTURE(hazard);
        const std::string key = std::string("caution.") + hazard;
        REQUIRE(words.contains(key + ".name"));
        REQUIRE(words.contains(key + ".text"));
        REQUIRE(words.contains(key + ".brief"));
        CHECK(words.at(key + ".text").size() > words.at(key + ".brief").size());
      }
    }
  }
}
