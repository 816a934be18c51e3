#pragma once

#include <string>

namespace gp {

/// A number as people write it, no longer than it must be to be that number: "100", "0.01",
/// "99.999". No locale.
std::string plain_number(double value);

}  // namespace gp
