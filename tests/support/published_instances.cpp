#include "support/published_instances.h"

#include <cstddef>
#include <map>
#include <sstream>
#include <stdexcept>
#include <vector>

#include <nlohmann/json.hpp>

namespace gp::test {
namespace {

using Json = nlohmann::ordered_json;

/// What all of them share: one day, no signing in, calls to the minute.
Json base(const std::string& title, const std::string& aim, const std::string& first_shot) {
  return {
      {"greasepaint", 1},
      {"title", title},
      {"zone", "UTC"},
      {"aim", aim},
      {"sign_in_minutes", 0},
      {"round_to", 1},
      {"days", {{{"date", "2027-06-01"}, {"nobody_before", "00:00"}, {"first_shot", first_shot}}}}};
}

std::string numbered(const std::string& letter, std::size_t number) {
  return letter + std::to_string(number);
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

std::vector<int> numbers_of(const std::string& line) {
  std::vector<int> numbers;
  std::istringstream in(line);
  for (int number = 0; in >> number;) numbers.push_back(number);
  return numbers;
}

/// The first line that begins with the word.
std::size_t line_with(const std::vector<std::string>& lines, const std::string& word) {
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (lines[i].starts_with(word)) return i;
  }
  throw std::runtime_error("no line begins with " + word);
}

}  // namespace

std::string talent_production(const std::string& json) {
  const Json given = Json::parse(json);
  const Json& actors = given.at("actors");
  const Json& scenes = given.at("scenes");
  Json out = base(given.at("name"), "least-time", "00:00");
  for (std::size_t i = 0; i < actors.size(); ++i) {
    out["people"].push_back({{"id", numbered("a", i)}, {"weight", actors[i].at("cost")}});
    out["roles"].push_back({{"id", numbered("r", i)}, {"person", numbered("a", i)}});
  }
  for (std::size_t j = 0; j < scenes.size(); ++j) {
    Json cast = Json::array();
    for (std::size_t i = 0; i < actors.size(); ++i) {
      if (actors[i].at("scenes").at(j) != 0) cast.push_back({{"role", numbered("r", i)}});
    }
    out["scenes"].push_back({{"id", numbered("s", j)},
                             {"shoot_minutes", scenes[j].at("duration")},
                             {"cast", std::move(cast)}});
  }
  return out.dump();
}

std::string job_shop_production(const std::string& text, int copies, int helpers) {
  std::vector<std::vector<int>> rows;
  for (const std::string& line : lines_of(text)) {
    if (line.starts_with("#")) continue;
    if (auto numbers = numbers_of(line); !numbers.empty()) rows.push_back(std::move(numbers));
  }
  if (rows.empty() || rows[0].size() != 2) throw std::runtime_error("no job shop");
  const auto jobs = static_cast<std::size_t>(rows[0][0]);
  const auto machines = static_cast<std::size_t>(rows[0][1]);
  Json out = base("job shop", "latest-first-call", "72:00");
  Json cast = Json::array();
  for (int copy = 0; copy < copies; ++copy) {
    for (std::size_t j = 0; j < jobs; ++j) {
      const std::vector<int>& row = rows.at(j + 1);
      const std::string name = std::to_string(copy) + "_" + std::to_string(j);
      Json steps = Json::array();
      for (std::size_t k = 0; k < machines; ++k) {
        Json step = {{"at", "m" + std::to_string(row.at(2 * k))}, {"minutes", row.at(2 * k + 1)}};
        if (helpers > 0) step["by"] = "help";
        steps.push_back(std::move(step));
      }
      out["people"].push_back({{"id", "p" + name}});
      out["looks"].push_back({{"id", "l" + name}, {"steps", std::move(steps)}});
      out["roles"].push_back({{"id", "r" + name}, {"person", "p" + name}, {"look", "l" + name}});
      cast.push_back({{"role", "r" + name}});
    }
  }
  for (int i = 0; i < helpers; ++i) {
    out["people"].push_back({{"id", "op" + std::to_string(i)}, {"can", {"help"}}});
  }
  for (std::size_t i = 0; i < machines; ++i) {
    out["stations"].push_back({{"id", numbered("m", i)}, {"places", copies}});
  }
  out["scenes"].push_back({{"id", "everybody"}, {"shoot_minutes", 1}, {"cast", std::move(cast)}});
  return out.dump();
}

std::string project_production(const std::string& text) {
  const std::vector<std::string> lines = lines_of(text);
  std::map<int, std::vector<int>> after;
  for (std::size_t i = line_with(lines, "PRECEDENCE") + 2; !lines.at(i).starts_with("*"); ++i) {
    const std::vector<int> fields = numbers_of(lines[i]);
    for (std::size_t f = 3; f < fields.size(); ++f) after[fields[f]].push_back(fields[0]);
  }
  std::map<int, std::vector<int>> activities;  // those that last: the two at the ends do not
  for (std::size_t i = line_with(lines, "REQUESTS") + 3; !lines.at(i).starts_with("*"); ++i) {
    std::vector<int> fields = numbers_of(lines[i]);
    if (fields.at(2) > 0) activities[fields[0]] = std::move(fields);
  }
  const std::vector<int> there_are = numbers_of(lines.at(line_with(lines, "RESOURCEAVAIL") + 2));
  Json out = base("project", "least-time", "00:00");
  for (const auto& [number, fields] : activities) {
    const std::string name = std::to_string(number);
    out["units"].push_back({{"id", "u" + name}});
    Json props = Json::array();
    for (std::size_t k = 0; k < there_are.size(); ++k) {
      const int wanted = fields.at(3 + k);
      if (wanted > 0) props.push_back({{"item", numbered("R", k)}, {"count", wanted}});
    }
    Json earlier = Json::array();
    for (const int other : after[number]) {
      if (activities.contains(other)) earlier.push_back("j" + std::to_string(other));
    }
    out["scenes"].push_back({{"id", "j" + name},
                             {"unit", "u" + name},
                             {"shoot_minutes", fields[2]},
                             {"props", std::move(props)},
                             {"after", std::move(earlier)}});
  }
  for (std::size_t k = 0; k < there_are.size(); ++k) {
    out["items"].push_back({{"id", numbered("R", k)}, {"count", there_are[k]}});
  }
  return out.dump();
}

}  // namespace gp::test
