#pragma once

#include "model/check.h"
#include "model/production.h"

#include <cstddef>
#include <vector>

namespace gp {

/// Who may do each step that needs somebody: by look, part and step, in the order of the staff list
/// (without one: of the people). The wearer is left out by whoever asks.
class StaffLists {
 public:
  StaffLists(const Production& production, Answers answers);

  /// Empty where the step needs nobody, and where nobody can do it: ask Step::by which.
  [[nodiscard]] const std::vector<PersonId>& on(LookId look, std::size_t step) const {
    return on_[look][step];
  }
  [[nodiscard]] const std::vector<PersonId>& off(LookId look, std::size_t step) const {
    return off_[look][step];
  }
  [[nodiscard]] const std::vector<PersonId>& of(LookId look, bool off, std::size_t step) const {
    return off ? off_[look][step] : on_[look][step];
  }
  /// How many of all the steps this person could do: who is wanted at the chairs should be asked
  /// last for a crowd.
  [[nodiscard]] int wanted(PersonId person) const { return wanted_[person]; }

 private:
  using Lists = std::vector<std::vector<PersonId>>;
  Table<LookId, Lists> on_, off_;
  Table<PersonId, int> wanted_;
};

}  // namespace gp
