// libFuzzer's entry for read_plan: any bytes are read or told; a plan that is read is written back
// as the same one, judged and priced. The production is fixed and has a bit of everything.

#include "base/fault.h"
#include "model/check.h"
#include "model/plan_json.h"
#include "model/price.h"
#include "model/read_production.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <variant>
#include <vector>

namespace {

void require(bool holds) {
  if (!holds) std::abort();
}

const gp::Production& lamp() {
  static const gp::Production production = [] {
    std::ifstream file(GP_SOURCE_DIR "/tests/data/plans/lamp.json");
    std::ostringstream text;
    text << file.rdbuf();
    return std::get<gp::Production>(gp::read_production(text.str()));
  }();
  return production;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const auto read = gp::read_plan(text, lamp());
  if (const auto* faults = std::get_if<std::vector<gp::Fault>>(&read)) {
    require(!faults->empty());
    return 0;
  }
  const auto& plan = std::get<gp::Plan>(read);
  const auto again = gp::read_plan(gp::write_plan(lamp(), plan), lamp());
  require(std::holds_alternative<gp::Plan>(again));
  require(std::get<gp::Plan>(again) == plan);
  gp::check(lamp(), plan);
  gp::price(lamp(), plan);
  return 0;
}
