#pragma once

#include "base/ids.h"
#include "model/production.h"

#include <string>
#include <string_view>
#include <variant>

namespace gp {

using WhyTarget = std::variant<PersonId, SceneId, StationId>;

/// What somebody asks about: the id or the shown name of a person, a scene or a station. Where the
/// same word names several, "person:bo", "scene:bo" or "station:bo" says which.
/// \return what it is; or what is wrong with it, in one sentence with the nearest name there is
std::variant<WhyTarget, std::string> find_why_target(const Production& film, std::string_view word);

}  // namespace gp
