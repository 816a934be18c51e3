#include "base/files.h"

#include "base/errors.h"

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <system_error>
#include <utility>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace gp {
namespace {

/// A file descriptor that is closed once.
class Descriptor {
 public:
  explicit Descriptor(int number) : number_(number) {}
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  ~Descriptor() {
    if (number_ > STDERR_FILENO) ::close(number_);
  }
  [[nodiscard]] int number() const { return number_; }
  /// Closes now, so that a failure (a full disk on a network share tells only here) is seen.
  [[nodiscard]] bool close_now() { return ::close(std::exchange(number_, -1)) == 0; }

 private:
  int number_;
};

std::string advice(int cause) {
  // a switch over errno: its values are macros, so no enum watches over the list
  switch (cause) {
    case ENOENT:
      return "check the path";
    case EACCES:
    case EPERM:
    case EROFS:
      return "choose another place or change its permissions";
    case EISDIR:
      return "name a file, not a folder";
    case ENOTDIR:
    case EEXIST:
      return "a file is in the way of a folder: choose another place";
    case ENOSPC:
    case EDQUOT:
    case EFBIG:
      return "make room there or choose another place";
    case ENAMETOOLONG:
      return "choose a shorter name";
    default:
      return "try again or choose another place";
  }
}

[[noreturn]] void fail(const std::string& tried, int cause) {
  throw WorldError(tried + "; " + advice(cause) + ": " + std::generic_category().message(cause));
}

/// Writes all bytes; returns 0 or the cause.
int write_all(int descriptor, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t written = ::write(descriptor, bytes.data(), bytes.size());
    if (written < 0) {
      if (errno == EINTR) continue;
      return errno;
    }
    bytes.remove_prefix(static_cast<std::size_t>(written));
  }
  return 0;
}

/// Where the bytes really go: the target of a link, or the path itself.
std::string followed(const std::string& path) {
  char* real = ::realpath(path.c_str(), nullptr);
  if (real == nullptr) return path;
  std::string result = real;
  ::free(real);  // NOLINT(cppcoreguidelines-no-malloc): realpath's own contract
  return result;
}

std::string folder_of(const std::string& path) {
  const auto slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

void write_directly(const std::string& path, std::string_view bytes, const std::string& tried) {
  Descriptor out(::open(path.c_str(), O_WRONLY | O_CLOEXEC));
  if (out.number() < 0) fail(tried, errno);
  if (const int cause = write_all(out.number(), bytes); cause != 0) fail(tried, cause);
  if (!out.close_now()) fail(tried, errno);
}

}  // namespace

std::string input_name(const std::string& path) {
  return path == "-" ? "standard input" : path;
}

std::string Disk::read(const std::string& path, std::size_t most) {
  const std::string tried = "cannot read " + input_name(path);
  const Descriptor in(path == "-" ? STDIN_FILENO : ::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (in.number() < 0) fail(tried, errno);
  std::string bytes;
  constexpr std::size_t kPiece = 1U << 16U;
  while (bytes.size() <= most) {
    const std::size_t before = bytes.size();
    const std::size_t wanted = std::min(kPiece, most + 1 - before);
    bytes.resize(before + wanted);
    const ssize_t got = ::read(in.number(), bytes.data() + before, wanted);
    if (got < 0) {
      bytes.resize(before);
      if (errno == EINTR) continue;
      fail(tried, errno);
    }
    bytes.resize(before + static_cast<std::size_t>(got));
    if (got == 0) break;
  }
  return bytes;
}

void Disk::write(const std::string& path, std::string_view bytes) {
  if (path == "-") {
    if (const int cause = write_all(STDOUT_FILENO, bytes); cause != 0) {
      fail("cannot write standard output", cause);
    }
    return;
  }
  const std::string tried = "cannot write " + path;
  const std::string target = followed(path);
  struct stat there {};
  mode_t mode = 0;
  if (::stat(target.c_str(), &there) == 0) {
    if (S_ISDIR(there.st_mode)) fail(tried, EISDIR);
    if (!S_ISREG(there.st_mode)) return write_directly(target, bytes, tried);
    mode = there.st_mode & 07777U;
  } else {
    const mode_t mask = ::umask(0);
    ::umask(mask);
    mode = 0666U & ~mask;
  }
  std::string beside = target + ".part-XXXXXX";
  Descriptor out(::mkostemp(beside.data(), O_CLOEXEC));
  if (out.number() < 0) fail(tried, errno);
  int cause = write_all(out.number(), bytes);
  if (cause == 0 && ::fchmod(out.number(), mode) != 0) cause = errno;
  if (cause == 0 && ::fsync(out.number()) != 0) cause = errno;
  if (!out.close_now() && cause == 0) cause = errno;
  if (cause == 0 && ::rename(beside.c_str(), target.c_str()) != 0) cause = errno;
  if (cause != 0) {
    ::unlink(beside.c_str());
    fail(tried, cause);
  }
  // the rename itself reaches the disk with its folder; a folder that cannot be synced (some
  // network shares) is no reason to call the file unwritten
  const Descriptor folder(::open(folder_of(target).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (folder.number() >= 0) static_cast<void>(::fsync(folder.number()));
}

void Disk::make_folder(const std::string& path) {
  const std::string tried = "cannot make the folder " + path;
  for (std::size_t at = 0; at != std::string::npos;) {
    at = path.find('/', at + 1);
    const std::string part = path.substr(0, at);
    if (part.empty() || ::mkdir(part.c_str(), 0777) == 0) continue;
    const int cause = errno;
    struct stat there {};
    if (::stat(part.c_str(), &there) == 0) {
      if (S_ISDIR(there.st_mode)) continue;
      fail(tried, ENOTDIR);
    }
    fail(tried, cause);
  }
}

}  // namespace gp
