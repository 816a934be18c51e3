#pragma once

#include "store/book.h"
#include "support/temporary_folder.h"

#include <cstdint>
#include <string>
#include <utility>
#include <variant>

#include <doctest/doctest.h>

namespace gp::test {

/// A small production in which all that the book's tests change stands.
inline constexpr const char* kSmallFilm = R"({
  "greasepaint": 1, "title": "The Lamp", "zone": "Europe/Dublin",
  "days": [{"date": "2027-04-17", "first_shot": "09:30"}, {"date": "2027-04-18"}],
  "people": [
    {"id": "noor", "name": "Noor Haddad", "can": ["paint"], "free": ["2027-04-17"]},
    {"id": "bo", "name": "Bo Lind", "can": ["light"]},
    {"id": "sami", "name": "Sami Haddad"}],
  "roles": [{"id": "keeper", "name": "The keeper", "person": "bo"},
            {"id": "crowd", "crowd": true}],
  "scenes": [{"id": "stairs", "name": "Up the stairs", "shoot_minutes": 30,
              "cast": [{"role": "keeper"}, {"role": "crowd", "people": 2}]}]
})";

inline constexpr UnixTime kNoon = 1'800'000'000;  // 2027-01-15T08:00Z; any moment will do

/// A book in a folder of its own.
struct BookFolder {
  explicit BookFolder(const std::string& production = kSmallFilm) {
    const auto faults = Book::make(path, production, kNoon);
    REQUIRE(faults.empty());
  }
  TemporaryFolder folder;
  std::string path = folder.file("lamp.book");
};

inline Document patch(const std::string& json) {
  return Document::parse(json);
}

inline Change change_of(const std::string& document,
                        const std::string& json,
                        std::optional<Revision> seen = std::nullopt) {
  Change change;
  change.edits.push_back({document, patch(json)});
  change.who = "organiser";
  change.why = "test";
  change.at = kNoon + 1;
  change.seen = seen;
  return change;
}

inline Kept kept(const std::variant<Kept, Refusal>& result) {
  if (const auto* refusal = std::get_if<Refusal>(&result)) {
    for (const Fault& fault : refusal->faults) {
      FAIL_CHECK(fault.path << ": " << fault.found << ", expected " << fault.expected);
    }
    for (const Collision& one : refusal->collisions) FAIL_CHECK("collision at " << one.path);
    return {};
  }
  return std::get<Kept>(result);
}

inline Refusal refused(const std::variant<Kept, Refusal>& result) {
  REQUIRE(std::holds_alternative<Refusal>(result));
  return std::get<Refusal>(result);
}

inline SignUp sign_up_of(const std::string& name) {
  SignUp sign_up;
  sign_up.name = name;
  sign_up.language = "en";
  return sign_up;
}

inline std::string entered(Book& book, const SignUp& sign_up, const std::string& form_key = {}) {
  const auto result = book.enter(sign_up, form_key, {}, kNoon + 2);
  REQUIRE(std::holds_alternative<Book::Entered>(result));
  return std::get<Book::Entered>(result).id;
}

}  // namespace gp::test
