#pragma once

#include "base/errors.h"
#include "base/files.h"

#include <map>
#include <string>
#include <vector>

namespace gp::test {

/// A disk in memory that remembers what was written, and refuses where told to.
class MemoryFiles final : public Files {
 public:
  std::map<std::string, std::string> files;
  std::vector<std::string> written;  ///< paths in order
  std::vector<std::string> folders;  ///< made
  std::string refuses;               ///< a path that cannot be written

  std::string read(const std::string& path, std::size_t most) override {
    const auto found = files.find(path);
    if (found == files.end()) throw WorldError("cannot read " + input_name(path));
    return found->second.substr(0, most + 1);
  }
  void write(const std::string& path, std::string_view bytes) override {
    if (!refuses.empty() && path == refuses) throw WorldError("cannot write " + path);
    files[path] = std::string(bytes);
    written.push_back(path);
  }
  void make_folder(const std::string& path) override { folders.push_back(path); }
};

}  // namespace gp::test
