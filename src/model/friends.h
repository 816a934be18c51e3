#pragma once

#include "model/production.h"

#include <vector>

namespace gp {

/// By person: whom they would like to be with, of their `likes`, in that order.
/// Cost: O(n log n) for n people and likes.
Table<PersonId, std::vector<PersonId>> friends_of_all(const Production& production);

}  // namespace gp
