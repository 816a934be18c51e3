#include "base/files.h"
#include "cli/run.h"
#include "cli/terminal.h"

#include <array>
#include <cstdlib>
#include <iostream>
#include <string>
#include <vector>

#include <unistd.h>

namespace {

/// The folder of the data beside the program: bin/../share/greasepaint/templates, installed or in
/// the build folder.
std::string templates_beside_program() {
  std::array<char, 4096> path{};
  const ssize_t size = ::readlink("/proc/self/exe", path.data(), path.size());
  std::string program = size > 0 ? std::string(path.data(), static_cast<std::size_t>(size)) : "";
  program.erase(program.find_last_of('/') == std::string::npos ? 0 : program.find_last_of('/'));
  return program + "/../share/greasepaint/templates";
}

bool set(const char* name) {
  const char* value = std::getenv(name);
  return value != nullptr && *value != '\0';
}

}  // namespace

int main(int argc, char** argv) {
  std::ios::sync_with_stdio(false);
  gp::Disk disk;
  const char* terminal = std::getenv("TERM");
  gp::Shell shell{disk,
                  std::cout,
                  std::cerr,
                  gp::is_terminal(STDOUT_FILENO),
                  gp::is_terminal(STDERR_FILENO),
                  gp::terminal_columns(STDOUT_FILENO),
                  set("NO_COLOR") || terminal == nullptr || std::string(terminal) == "dumb",
                  templates_beside_program()};
  return static_cast<int>(gp::run(std::vector<std::string>(argv + 1, argv + argc), shell));
}
