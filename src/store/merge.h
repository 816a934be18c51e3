#pragma once

#include "store/document.h"

#include <string>
#include <vector>

namespace gp {

/// A place that two sides changed, each in its own way.
struct MergeCollision {
  std::string path;               ///< `people[noor].free`
  Document before, theirs, mine;  ///< null: none there
};

struct Merged {
  Document document;  ///< right only where there is no collision
  std::vector<MergeCollision> collisions;
};

/// Both sides' changes of one document, brought together where they touch different values. Entries
/// of lists are matched by their ids (ListKey), so that two people added at once are both there; a
/// list whose entries cannot be told apart is one value. What both changed in the same way is no
/// collision; what one side took away and the other changed is. Null: the document is not there.
/// Cost: O(n) but for lists that one side put in another order.
Merged merge(const Document& before, const Document& theirs, const Document& mine);

}  // namespace gp
