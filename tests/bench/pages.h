#pragma once

#include <string>
#include <string_view>
#include <vector>

// docs/benchmarks.md: sections between two remarks each, so that one can be measured anew alone.

namespace gp::bench {

/// The page with this section in the place of the one of that name; where there is none it goes
/// before the first of those that come later in `order`, or to the end. `body` is Markdown without
/// the heading's remarks. Everything else stays as it stands, to the byte.
std::string with_section(const std::string& page,
                         const std::string& name,
                         const std::string& body,
                         const std::vector<std::string>& order);

/// A table in Markdown, its columns after the first set to the right. Every row has as many cells
/// as there are headings.
std::string table(const std::vector<std::string>& headings,
                  const std::vector<std::vector<std::string>>& rows);

/// With so many digits after the point.
std::string decimal(double value, int digits);
/// 0.0123 as "1.23 %".
std::string percent(double share);
/// Seconds, fine enough to be read: "0.04", "3.1", "128".
std::string seconds_text(double seconds);

}  // namespace gp::bench
