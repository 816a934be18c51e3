#include "base/json.h"
#include "base/random.h"
#include "support/seed.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

// The oracle is nlohmann::json, a general-purpose JSON library (Debian's nlohmann-json3-dev): both
// must accept or both refuse any text, and see the same values in it. The exceptions are ours, on
// purpose, and are looked for by name: doubled keys and depth. One is theirs: a zero byte between
// values ends the text for them; RFC 8259 has no such blank.

namespace {

using Oracle = nlohmann::json;

bool same(const gp::Json& ours, const Oracle& theirs) {
  switch (ours.kind()) {
    case gp::JsonKind::broken:
      return false;
    case gp::JsonKind::null:
      return theirs.is_null();
    case gp::JsonKind::boolean:
      return theirs.is_boolean() && theirs.get<bool>() == ours.boolean();
    case gp::JsonKind::number:
      return theirs.is_number() && theirs.get<double>() == ours.number();
    case gp::JsonKind::text:
      return theirs.is_string() && theirs.get<std::string>() == ours.text();
    case gp::JsonKind::list: {
      if (!theirs.is_array() || theirs.size() != ours.items().size()) return false;
      for (std::size_t i = 0; i < theirs.size(); ++i) {
        if (!same(ours.items()[i], theirs[i])) return false;
      }
      return true;
    }
    case gp::JsonKind::object: {
      if (!theirs.is_object() || theirs.size() != ours.members().size()) return false;
      for (const gp::JsonMember& member : ours.members()) {
        if (!theirs.contains(member.key) || !same(member.value, theirs[member.key])) return false;
      }
      return true;
    }
  }
  return false;
}

bool is_ours_alone(const gp::Fault& fault) {
  return fault.found.ends_with("a second time") ||
         fault.found == "one more list or object inside the others";
}

class Texts {
 public:
  explicit Texts(std::uint64_t seed) : random_(seed) {}

  std::string value(int depth) {
    switch (random_.below(depth > 0 ? 9U : 7U)) {
      case 0:
        return "null";
      case 1:
        return random_.chance(1, 2) ? "true" : "false";
      case 2:
      case 3:
        return number();
      case 4:
      case 5:
      case 6:
        return string();
      case 7: {
        std::string result = "[" + blank();
        for (std::size_t i = random_.below(4); i > 0; --i) {
          result += value(depth - 1) + blank() + (i > 1 ? "," + blank() : "");
        }
        return result + "]";
      }
      default: {
        std::string result = "{" + blank();
        for (std::size_t i = random_.below(4); i > 0; --i) {
          result += string() + blank() + ":" + blank() + value(depth - 1) + (i > 1 ? "," : "");
        }
        return result + "}";
      }
    }
  }

  std::string mutated(std::string text) {
    static const std::vector<std::string> kPieces = {"\"",
                                                     "\\",
                                                     "\\u",
                                                     "\\ud83c",
                                                     "{",
                                                     "}",
                                                     "[",
                                                     "]",
                                                     ",",
                                                     ":",
                                                     "0",
                                                     "-",
                                                     "+",
                                                     ".",
                                                     "e",
                                                     "E9",
                                                     "1e308",
                                                     "1e309",
                                                     "true",
                                                     "nul",
                                                     " ",
                                                     "\t",
                                                     "\n",
                                                     "\x01",
                                                     "\x7F",
                                                     "\xC3",
                                                     "\xA9",
                                                     "\xED\xA0\x80",
                                                     "\xF0\x9F\x8E\xAC",
                                                     "\xEF\xBB\xBF",
                                                     "//",
                                                     "/*",
                                                     "'",
                                                     "NaN",
                                                     std::string(1, '\0')};
    for (std::size_t i = random_.below(4); i > 0; --i) {
      const std::size_t at = random_.index(text.size() + 1);
      switch (random_.below(5)) {
        case 0:
          text.insert(at, kPieces[random_.index(kPieces.size())]);
          break;
        case 1:
          if (at < text.size()) text.erase(at, 1 + random_.index(3));
          break;
        case 2:
          if (at < text.size()) text[at] = static_cast<char>(random_.below(256));
          break;
        case 3:
          text.insert(at, text.substr(random_.index(text.size() + 1), random_.index(9)));
          break;
        default:
          if (random_.chance(1, 4)) text.resize(at);
          break;
      }
    }
    return text;
  }

 private:
  std::string blank() {
    static const std::vector<std::string> kBlanks = {"", "", "", " ", "\n", "\t", "\r\n"};
    return kBlanks[random_.index(kBlanks.size())];
  }
  std::string number() {
    std::string result = random_.chance(1, 3) ? "-" : "";
    result += random_.chance(1, 4) ? "0" : std::to_string(1 + random_.below(2'000'000'000));
    if (random_.chance(1, 3)) result += "." + std::to_string(random_.next());
    if (random_.chance(1, 4)) {
      const char* const signs[] = {"e", "E+", "e-", "E-0"};
      result += signs[random_.index(4)] + std::to_string(random_.below(330));
    }
    return result;
  }
  std::string string() {
    static const std::vector<std::string> kPieces = {"a",
                                                     "key",
                                                     "Zoë",
                                                     "李",
                                                     "🎬",
                                                     "\\n",
                                                     "\\\"",
                                                     "\\\\",
                                                     "\\/",
                                                     "\\u0041",
                                                     "\\u00e9",
                                                     "\\uD83C\\uDFAC",
                                                     "\\u0000",
                                                     " ",
                                                     "\x7F",
                                                     "\\t"};
    std::string result = "\"";
    for (std::size_t i = random_.below(5); i > 0; --i)
      result += kPieces[random_.index(kPieces.size())];
    return result + "\"";
  }

  gp::Random random_;
};

}  // namespace

TEST_SUITE("base/json_oracle") {
  TEST_CASE("random: every valid text is read, with the values the library reads") {
    Texts texts(gp::test::seed());
    int doubled = 0;
    int read_too = 0;
    for (int round = 0; round < 5000; ++round) {
      const std::string text = texts.value(4);
      CAPTURE(text);
      const Oracle theirs = Oracle::parse(text, nullptr, false);
      const gp::JsonRead ours = gp::read_json(text);
      if (theirs.is_discarded()) {  // a number like 1999999999.5e325
        CHECK(!ours.faults.empty());
        continue;
      }
      if (!ours.faults.empty()) {
        for (const gp::Fault& fault : ours.faults) CHECK(fault.found.ends_with("a second time"));
        ++doubled;
        continue;
      }
      CHECK(same(*ours.root, theirs));
      ++read_too;
    }
    CHECK(read_too > 4000);
    CHECK(doubled > 0);  // else the exception is never seen
  }

  TEST_CASE("random: a text with slips in it is refused where the library refuses it") {
    Texts texts(gp::test::seed() + 1);
    int accepted = 0;
    int refused = 0;
    for (int round = 0; round < 40'000; ++round) {
      const std::string text = texts.mutated(texts.value(3));
      CAPTURE(text);
      const Oracle theirs = Oracle::parse(text, nullptr, false);
      const gp::JsonRead ours = gp::read_json(text);
      bool purely_ours = !ours.faults.empty();
      for (const gp::Fault& fault : ours.faults) purely_ours = purely_ours && is_ours_alone(fault);
      if (theirs.is_discarded()) {
        ++refused;
        REQUIRE(!ours.faults.empty());
        REQUIRE(!purely_ours);
      } else if (text.find('\0') != std::string::npos) {
        CHECK(!ours.faults.empty());
      } else if (!purely_ours) {
        ++accepted;
        REQUIRE(ours.faults.empty());
        REQUIRE(same(*ours.root, theirs));
      }
      for (const gp::Fault& fault : ours.faults) {
        REQUIRE(fault.line >= 1);
        REQUIRE(fault.column >= 1);
        REQUIRE(!fault.found.empty());
        REQUIRE(!fault.expected.empty());
      }
    }
    CHECK(accepted > 5000);
    CHECK(refused > 5000);
  }
}
