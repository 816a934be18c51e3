#include "cli/plain_number.h"

#include "base/errors.h"

#include <array>
#include <charconv>

namespace gp {

std::string plain_number(double value) {
  std::array<char, 400> text{};  // the longest double without an exponent has some 330 characters
  const auto [end, error] =
      std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed);
  if (error != std::errc{}) throw InternalError("a number is too long to write");
  return {text.data(), end};
}

}  // namespace gp
