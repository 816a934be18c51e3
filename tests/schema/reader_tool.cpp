// Reads one production a line from standard input and answers each with a line of JSON: the list of
// its faults, as "path: found / expected", or, where there is none, the text of the production
// written back. For run.mjs.

#include "base/json_writer.h"
#include "model/read_production.h"

#include <iostream>
#include <string>
#include <variant>
#include <vector>

int main() {
  std::ios::sync_with_stdio(false);
  for (std::string line; std::getline(std::cin, line);) {
    const auto read = gp::read_production(line);
    gp::JsonWriter writer;
    if (const auto* production = std::get_if<gp::Production>(&read)) {
      writer.text(gp::write_production(*production));
    } else {
      std::vector<std::string> told;
      for (const gp::Fault& fault : std::get<std::vector<gp::Fault>>(read)) {
        told.push_back(fault.path + ": " + fault.found + " / " + fault.expected);
      }
      writer.texts(told);
    }
    std::cout << writer.finish();
  }
  return std::cin.bad() ? 1 : 0;
}
