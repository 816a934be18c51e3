#pragma once

#include "base/random.h"

#include <nlohmann/json.hpp>

// Inside of random_production alone: what chance put together and the reader would call a fault of
// sense is put right.

namespace gp::test {

/// A part that nobody may play is a fault of the file: such a one is given to somebody.
void mend_parts(nlohmann::ordered_json& out, Random& random);

/// Whoever a part is fixed to will do it, or the file has a fault: what they would refuse in it is
/// taken off their list.
void mend_refusals(nlohmann::ordered_json& out);

}  // namespace gp::test
