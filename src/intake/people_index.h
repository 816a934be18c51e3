#pragma once

#include "base/ids.h"
#include "model/production.h"
#include "text/fold.h"

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace gp {

/// People by what makes them known; for people_merge.cpp.
class PeopleIndex {
 public:
  struct Found {
    PersonId person;
    bool id = false, name = false, phone = false, mail = false;
    std::size_t others = 0;  ///< more people found
  };

  void add(PersonId id, const Person& person);
  /// The one who is most probably the same. Cost: O(log n).
  [[nodiscard]] std::optional<Found> find(const Person& person) const;
  /// By id, else by name where only one person has it.
  [[nodiscard]] PersonId named(const std::string& text) const;
  [[nodiscard]] bool has_id(const std::string& id) const { return ids_.contains(id); }
  [[nodiscard]] bool same_name(const std::string& a, const std::string& b) const;

 private:
  /// A few are enough to offer: a list in which everybody has the phone of the office stays quick.
  static constexpr std::size_t kMostOfOne = 4;
  using People = std::vector<PersonId>;

  Folding folding_;
  std::map<std::string, PersonId> ids_;
  std::map<std::string, People> names_, mails_;
  std::map<std::string, std::map<std::string, People>> phones_;  ///< by national part and country
};

/// A mail address to compare: "Noor <Noor@Example.org>" is "noor@example.org".
std::string mail_key(const std::string& text);

}  // namespace gp
