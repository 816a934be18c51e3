#include "cli/terminal.h"

#include <sys/ioctl.h>
#include <unistd.h>

namespace gp {

std::string Paint::in(std::string_view code, std::string_view text) const {
  if (!colours_) return std::string(text);
  return "\x1b[" + std::string(code) + "m" + std::string(text) + "\x1b[0m";
}

bool is_terminal(int descriptor) {
  return ::isatty(descriptor) == 1;
}

std::size_t terminal_columns(int descriptor) {
  constexpr std::size_t kUsual = 80;
  winsize size{};
  if (::ioctl(descriptor, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return kUsual;
  return size.ws_col;
}

}  // namespace gp
