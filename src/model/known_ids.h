#pragma once

#include "base/json.h"
#include "model/fault_list.h"

#include <cstddef>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// Whether a text can be an id: 1 to 64 characters, letters, digits, "-" and "_" in any script. By
/// exclusion, so that no table of letters is needed: no blank, no control character, no ASCII
/// punctuation but those two, none of Unicode's general punctuation (but the two joiners that some
/// scripts write words with). The pattern of docs/production.schema.json says the same.
bool is_id(std::string_view text);

/// The ids of one list of the file, collected before anything refers to them.
class KnownIds {
 public:
  /// \param list  the key of the list in the file, e.g. "places"
  /// \param noun  one of it, with its article, e.g. "a place"
  KnownIds(std::string_view list, std::string_view noun) : list_(list), noun_(noun) {}

  /// Reads the ids, one for each entry of the list (empty where it has none), and tells doubled
  /// ones. What else is wrong with an entry is told when it is read.
  void collect(FaultList& faults, const Json& root);
  void add(const std::string& id);

  [[nodiscard]] std::optional<std::size_t> find(std::string_view id) const;
  /// The list is there but is none, or an id in it is no text: what seems to dangle may not.
  [[nodiscard]] bool unreadable() const { return unreadable_; }
  [[nodiscard]] const std::vector<std::string>& names() const { return names_; }
  [[nodiscard]] const std::string& list() const { return list_; }
  [[nodiscard]] const std::string& noun() const { return noun_; }

 private:
  std::string list_;
  std::string noun_;
  bool unreadable_ = false;
  std::vector<std::string> names_;
  std::map<std::string, std::size_t, std::less<>> index_;
};

}  // namespace gp
