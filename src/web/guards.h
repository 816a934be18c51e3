#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

// What a request must be before the HTTP library sees it. The library's version has known holes;
// each is stopped here, and docs/security.md lists them.

namespace gp {

inline constexpr std::size_t kMostHeadBytes = std::size_t{16} * 1024;
inline constexpr std::size_t kMostTargetBytes = 4096;
inline constexpr std::size_t kMostHeaders = 100;
inline constexpr std::size_t kMostBodyBytes = std::size_t{64} * 1024;

/// The head of a request as it came over the wire.
struct RequestHead {
  std::string method, target;
  std::vector<std::pair<std::string, std::string>> headers;  ///< names in lower case
  std::size_t body_bytes = 0;                                ///< Content-Length

  /// The first of that name; null: none.
  [[nodiscard]] const std::string* find(std::string_view name) const;
};

/// Reads a head strictly (RFC 9112: CR LF alone ends a line, no folded lines, no blanks before a
/// colon) and refuses what the library would misread.
/// \param bytes  up to and with the empty line
/// \param hosts  what a Host header may say, in lower case, without the port
/// \return 0: it may go on; else the status to answer with
int read_head(std::string_view bytes, const std::vector<std::string>& hosts, RequestHead& head);

/// The request as the library gets it: the headers that the pages use and no others, one request
/// and not a byte more.
std::string vetted_request(const RequestHead& head, std::string_view body);

/// A whole answer without the library, for what is refused before it; the body is one line.
std::string plain_answer(int status);
/// What every answer carries, refusals too.
const std::vector<std::pair<std::string, std::string>>& safe_headers();

}  // namespace gp
