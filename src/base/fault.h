#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace gp {

/// One fault in a file that someone wrote. Collected, never thrown: a file is read whole and every
/// fault is told.
struct Fault {
  std::size_t line = 0;    ///< from 1; 0: the file as a whole
  std::size_t column = 0;  ///< from 1, counted in characters (code points), not bytes
  std::string path;        ///< of the value, e.g. `scenes[3].cast[0].role`; empty: the file
  std::string found;       ///< what stands there
  std::string expected;    ///< what should stand there
  std::string nearest;     ///< the nearest valid name; empty: none is near

  bool operator==(const Fault&) const = default;
};

/// A fault as people read it, ending in a newline:
///
///     march.json:12:17: scenes[3].cast[0].role: found "quen", expected the id of a role in
///     "roles"; nearest: "queen"
///       {"id": "march", "cast": [{"role": "quen"}]}
///                                         ^
///
/// A long line is shown around the column. Characters that draw nothing or would steer the terminal
/// are made visible. The caret counts wide and combining characters; in a line that runs from right
/// to left the column is right and the caret may not be.
/// \param file_name    as the reader of the message knows it
/// \param source_text  the file; what is not UTF-8 is shown as U+FFFD
/// Cost: O(n) in the file's bytes up to the line.
std::string render(const Fault& fault, std::string_view file_name, std::string_view source_text);

}  // namespace gp
