#pragma once

#include "base/fault.h"
#include "base/json.h"
#include "base/nearest.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// The faults of one file as they are found; handed out in the order of the file.
class FaultList {
 public:
  void add(JsonPosition at,
           std::string path,
           std::string found,
           std::string expected,
           std::string nearest = {});
  /// Faults that somebody else found in the same file.
  void add(std::vector<Fault> faults);

  /// The nearest of some valid names (base/nearest.h); empty where none is near, or where so many
  /// names have been compared in this file already that more would take noticeable time.
  std::string nearest_of(std::string_view name, const std::vector<std::string>& valid);

  /// Something could not be read whose fault is told already.
  void suspect() { ++suspected_; }

  [[nodiscard]] bool empty() const { return found_ == 0; }
  /// Faults and suspicions so far: where it has not grown, nothing was wrong.
  [[nodiscard]] std::size_t count() const { return found_ + suspected_; }
  /// Whether there are more than are listed. Nothing needs to look for further ones.
  [[nodiscard]] bool full() const;

  /// All, in the order of the file; where there are too many, the last says so.
  [[nodiscard]] std::vector<Fault> take();

 private:
  std::vector<Fault> faults_;
  std::size_t found_ = 0;
  std::size_t suspected_ = 0;
  std::size_t compared_ = 0;
};

}  // namespace gp
