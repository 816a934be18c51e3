#pragma once

#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

namespace gp::test {

/// The records of a small CSV file of tests/data, without quotes; lines with # are comments.
inline std::vector<std::vector<std::string>> rows_of(const std::string& name) {
  std::ifstream file(std::string(GP_TEST_DATA) + "/" + name);
  if (!file) throw std::runtime_error("no test data " + name);
  std::vector<std::vector<std::string>> rows;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    std::vector<std::string> fields(1);
    for (const char c : line) {
      if (c == ',') {
        fields.emplace_back();
      } else {
        fields.back() += c;
      }
    }
    rows.push_back(fields);
  }
  return rows;
}

}  // namespace gp::test
