#pragma once

#include <string>
#include <vector>

namespace gp {

/// The hazards that bring cautions to the sheets, in the order in which they are printed. Others
/// are words of the production's own.
const std::vector<std::string>& known_hazards();

}  // namespace gp
