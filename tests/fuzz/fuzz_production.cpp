// libFuzzer's entry for read_production: any bytes are read or told; a production that is read is
// written back as the same one.

#include "base/fault.h"
#include "model/read_production.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>
#include <variant>
#include <vector>

namespace {

void require(bool holds) {
  if (!holds) std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto read = gp::read_production(text);
  if (const auto* faults = std::get_if<std::vector<gp::Fault>>(&read)) {
    require(!faults->empty());
    for (const gp::Fault& fault : *faults) {
      require(!fault.found.empty() && !fault.expected.empty());
      require(!gp::render(fault, "f", text).empty());
    }
    return 0;
  }
  const auto& production = std::get<gp::Production>(read);
  const auto again = gp::read_production(gp::write_production(production));
  require(std::holds_alternative<gp::Production>(again));
  require(std::get<gp::Production>(again) == production);
  return 0;
}
