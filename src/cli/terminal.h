#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace gp {

/// How a text looks on a terminal that has colours; without them everything is plain.
class Paint {
 public:
  explicit Paint(bool colours) : colours_(colours) {}

  [[nodiscard]] std::string heading(std::string_view text) const { return in("1", text); }
  [[nodiscard]] std::string quiet(std::string_view text) const { return in("2", text); }
  [[nodiscard]] std::string loss(std::string_view text) const { return in("31", text); }
  [[nodiscard]] std::string warning(std::string_view text) const { return in("33", text); }

 private:
  /// Between the codes of ECMA-48 (SGR): bold 1, faint 2, red 31, yellow 33, all off 0.
  [[nodiscard]] std::string in(std::string_view code, std::string_view text) const;
  bool colours_;
};

/// Whether the descriptor is a terminal, and its columns (80 where it does not say).
bool is_terminal(int descriptor);
std::size_t terminal_columns(int descriptor);

}  // namespace gp
