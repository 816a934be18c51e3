#include "bench/machine.h"

#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <exception>
#include <fstream>
#include <stdexcept>
#include <thread>

#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

namespace gp::bench {
namespace {

/// What stands behind the key in a file of `key: value` or `KEY="value"` lines.
std::string value_of(const std::string& path, const std::string& key) {
  std::ifstream file(path);
  for (std::string line; std::getline(file, line);) {
    if (!line.starts_with(key)) continue;
    const std::size_t from = line.find_first_not_of("\t :=\"", key.size());
    if (from == std::string::npos) continue;
    const std::size_t until = line.find_last_not_of("\" ");
    return line.substr(from, until - from + 1);
  }
  return "not known";
}

std::string first_line(const std::string& text) {
  return text.substr(0, text.find('\n'));
}

}  // namespace

std::string machine_text() {
  const double kib = std::atof(value_of("/proc/meminfo", "MemTotal").c_str());
  char memory[32];
  std::snprintf(memory, sizeof memory, "%.0f GB", kib / 1024 / 1024);
  return std::to_string(std::thread::hardware_concurrency()) + " cores of " +
         value_of("/proc/cpuinfo", "model name") + ", " + memory + " of memory, " +
         value_of("/etc/os-release", "PRETTY_NAME") +
         ", g++ " __VERSION__
#ifdef NDEBUG
         ", optimised";
#else
         ", with assertions";
#endif
}

std::string commit_text() {
  const std::string git = "git -C '" GP_SOURCE_DIR "' ";
  struct stat program {};
  if (::stat("/proc/self/exe", &program) != 0) return "not known";
  // others may commit while this is built or measured: what came later is not in this program
  const Output last =
      output_of(git + "log -1 --format=%h --before=" + std::to_string(program.st_mtime) +
                " -- src 2>/dev/null");
  if (last.status != 0 || last.text.empty()) return "not known";
  const Output changed = output_of(git + "status --porcelain -- src 2>/dev/null");
  return first_line(last.text) + (changed.text.empty() ? "" : " and changes not committed");
}

std::string today() {
  const std::time_t now = std::time(nullptr);
  std::tm parts{};
  ::gmtime_r(&now, &parts);
  std::array<char, 16> text{};
  std::strftime(text.data(), text.size(), "%Y-%m-%d", &parts);
  return text.data();
}

double load() {
  double average = 0;
  return ::getloadavg(&average, 1) == 1 ? average : 0;
}

double peak_megabytes() {
  rusage usage{};
  ::getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

Apart run_apart(const std::function<std::string()>& work) {
  std::array<int, 2> ends{};
  if (::pipe(ends.data()) != 0) throw std::runtime_error("no pipe");
  const auto start = std::chrono::steady_clock::now();
  std::fflush(nullptr);
  const pid_t process = ::fork();
  if (process < 0) throw std::runtime_error("no process");
  if (process == 0) {
    ::close(ends[0]);
    int status = 0;
    try {
      const std::string text = work();
      std::size_t sent = 0;
      while (sent < text.size()) {
        const ssize_t now = ::write(ends[1], text.data() + sent, text.size() - sent);
        if (now <= 0) break;
        sent += static_cast<std::size_t>(now);
      }
    } catch (const std::exception& error) {
      std::fprintf(stderr, "benchmarks: %s\n", error.what());
      status = 1;
    }
    std::fflush(nullptr);
    ::_exit(status);
  }
  ::close(ends[1]);
  Apart apart;
  std::array<char, 65536> buffer{};
  for (ssize_t got = 0; (got = ::read(ends[0], buffer.data(), buffer.size())) > 0;) {
    apart.text.append(buffer.data(), static_cast<std::size_t>(got));
  }
  ::close(ends[0]);
  int status = 0;
  rusage usage{};
  ::wait4(process, &status, 0, &usage);
  apart.ended_well = WIFEXITED(status) && WEXITSTATUS(status) == 0;
  apart.megabytes = static_cast<double>(usage.ru_maxrss) / 1024;
  apart.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  return apart;
}

Output output_of(const std::string& command) {
  Output output;
  FILE* pipe = ::popen(command.c_str(), "r");
  if (pipe == nullptr) return output;
  std::array<char, 4096> buffer{};
  for (std::size_t got = 0; (got = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
    output.text.append(buffer.data(), got);
  }
  const int status = ::pclose(pipe);
  output.status = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return output;
}

}  // namespace gp::bench
