#pragma once

#include <nlohmann/json.hpp>

namespace gp {

/// A JSON document as the book keeps it: keys in the order they were written.
using Document = nlohmann::ordered_json;

}  // namespace gp
