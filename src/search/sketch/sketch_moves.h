#pragma once

#include "base/random.h"
#include "search/sketch/sketch.h"

namespace gp {

/// Makes one change to a sketch, whichever is drawn; it is not settled yet. False: it changed
/// nothing.
bool change_sketch(Sketch& sketch, Random& random);

}  // namespace gp
