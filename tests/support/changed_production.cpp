#include "support/changed_production.h"

#include "model/read_production.h"

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <variant>

#include <nlohmann/json.hpp>

namespace gp::test {

std::string production_text(std::string_view name) {
  const std::string path = GP_TEST_DATA "/productions/" + std::string(name) + ".json";
  std::ifstream file(path);
  if (!file) throw std::runtime_error("cannot read " + path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::string changed_again(const std::string& text,
                          std::string_view pointer,
                          std::string_view value) {
  auto json = nlohmann::ordered_json::parse(text);
  nlohmann::ordered_json patch = nlohmann::ordered_json::array();
  patch.push_back({{"op", value.empty() ? "remove" : "add"}, {"path", pointer}});
  if (!value.empty()) patch[0]["value"] = nlohmann::ordered_json::parse(value);
  return json.patch(patch).dump();
}

std::string changed(std::string_view pointer, std::string_view value, std::string_view name) {
  return changed_again(production_text(name), pointer, value);
}

std::vector<std::string> told(const std::string& text) {
  const auto read = read_production(text);
  std::vector<std::string> result;
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    for (const Fault& fault : *faults) {
      result.push_back(fault.path + ": " + fault.found + " / " + fault.expected +
                       (fault.nearest.empty() ? "" : " ~ " + fault.nearest));
    }
  }
  return result;
}

}  // namespace gp::test
