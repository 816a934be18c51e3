#include "model/fault_list.h"

#include "model/limits.h"

#include <algorithm>
#include <tuple>
#include <utility>

namespace gp {

void FaultList::add(JsonPosition at,
                    std::string path,
                    std::string found,
                    std::string expected,
                    std::string nearest) {
  ++found_;
  if (faults_.size() >= limits::kFaults) return;
  faults_.push_back(
      fault_at(at, std::move(path), std::move(found), std::move(expected), std::move(nearest)));
}

void FaultList::add(std::vector<Fault> faults) {
  for (Fault& fault : faults) {
    ++found_;
    if (faults_.size() < limits::kFaults) faults_.push_back(std::move(fault));
  }
}

std::string FaultList::nearest_of(std::string_view name, const std::vector<std::string>& valid) {
  constexpr std::size_t kMostCompared = 500'000;  // about half a second
  if (compared_ + valid.size() > kMostCompared) return {};
  compared_ += valid.size();
  return nearest(name, valid);
}

bool FaultList::full() const {
  return found_ > limits::kFaults;
}

std::vector<Fault> FaultList::take() {
  std::stable_sort(faults_.begin(), faults_.end(), [](const Fault& a, const Fault& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
  if (full()) {
    Fault rest;
    rest.found = "more than " + std::to_string(limits::kFaults) + " faults";
    rest.expected = "fewer; the others are not listed";
    faults_.push_back(std::move(rest));
  }
  found_ = 0;
  return std::exchange(faults_, {});
}

}  // namespace gp
