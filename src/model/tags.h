#pragma once

#include "model/production.h"

#include <algorithm>

namespace gp {

[[nodiscard]] inline bool has(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

}  // namespace gp
