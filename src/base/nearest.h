#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// The valid name that someone most likely meant by `name`: the same but for upper and lower case
/// first, then the least edits (insert, delete, replace, swap two neighbours), then a valid name of
/// which it is the beginning. Empty where none is near: more than one edit in three characters.
/// Of equals the first in `valid`. Upper and lower case are Latin, Greek and Cyrillic; others are
/// compared as written.
/// Cost: O(n · k²) for n valid names of k characters, less for names of other lengths; names above
/// 64 characters are near to nothing. Threads: pure.
/// Source: optimal string alignment distance, Boytsov 2011, doi:10.1145/1963190.1963191 (section
/// 2).
std::string nearest(std::string_view name, const std::vector<std::string>& valid);

/// Those edits counted, in characters. \param most  counting stops above it: most + 1 comes back
std::size_t edits(std::u32string_view a, std::u32string_view b, std::size_t most);

}  // namespace gp
