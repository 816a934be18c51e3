#pragma once

#include "store/document.h"

#include <optional>
#include <string>
#include <vector>

namespace gp {

/// What tells the entries of a list apart, whatever place they stand at.
class ListKey {
 public:
  /// The key that serves for all the lists: a member that each entry has as a text and no two of
  /// one list share ("id", "date", "role", …), or the words themselves. None: the entries are told
  /// apart by their place alone.
  static std::optional<ListKey> for_lists(const std::vector<const Document*>& lists);

  [[nodiscard]] const std::string& of(const Document& entry) const;
  /// Whether the entries are the keys (a list of words).
  [[nodiscard]] bool words() const { return member_.empty(); }

 private:
  explicit ListKey(std::string member) : member_(std::move(member)) {}
  [[nodiscard]] bool serves(const Document& list) const;
  std::string member_;
};

/// A patch that makes `after` of `before`, small where entries of lists were added, taken out or
/// moved: they are matched by their ids, not by their places. Empty list: they are the same.
/// Cost: O(n) for equal parts; a list whose order changed costs the square of its length.
Document difference(const Document& before, const Document& after);

}  // namespace gp
