#pragma once

#include <string>
#include <string_view>

namespace gp {

/// The SHA-256 digest of the bytes, as 64 lower-case hexadecimal digits. Used to say which file a
/// plan was made from; not used for anything secret. Cost: O(n). Source: FIPS PUB 180-4,
/// sections 4.1.2, 4.2.2, 5 and 6.2.
std::string sha256(std::string_view bytes);

}  // namespace gp
