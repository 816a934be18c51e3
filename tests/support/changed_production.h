#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace gp::test {

/// tests/data/productions/<name>.json.
std::string production_text(std::string_view name);

/// That production with one value replaced (or added, or taken out).
/// \param pointer  a JSON pointer (RFC 6901), e.g. "/scenes/0/at"; "/people/-" adds to a list
/// \param value    JSON text; empty: the value is taken out
std::string changed(std::string_view pointer,
                    std::string_view value,
                    std::string_view name = "lighthouse");
/// A text changed once more.
std::string changed_again(const std::string& text,
                          std::string_view pointer,
                          std::string_view value);

/// The faults of a production, one a string, as "path: found / expected", then " ~ nearest" where
/// there is one. Empty: it was read.
std::vector<std::string> told(const std::string& text);

}  // namespace gp::test
