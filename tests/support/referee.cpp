#include "support/referee.h"

#include "support/temporary_folder.h"

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>

#include <nlohmann/json.hpp>

namespace gp::test {
namespace {

std::vector<std::string> places() {
  std::vector<std::string> all;
  if (const char* given = std::getenv("GREASEPAINT_REFEREE")) all.emplace_back(given);
  all.push_back(std::string(GP_SOURCE_DIR) + "/../shared/tools/referee");
  return all;
}

Thousandths thousandths(const nlohmann::json& number) {
  return std::llround(number.get<double>() * 1000.0);
}

Price price_of(const nlohmann::json& cost) {
  Price price;
  price.not_filmed = thousandths(cost.at("not_filmed"));
  price.optional_not_filmed = thousandths(cost.at("optional_not_filmed"));
  price.unfilled = cost.at("unfilled").get<int>();
  price.on_site = cost.at("on_site").get<std::int64_t>();
  price.weighted_on_site = thousandths(cost.at("weighted"));
  price.waiting = cost.at("waiting").get<std::int64_t>();
  price.span = cost.at("span").get<std::int64_t>();
  price.wrap = cost.at("wrap").get<std::int64_t>();
  return price;
}

}  // namespace

std::optional<std::string> referee_path() {
  for (const std::string& place : places()) {
    if (std::filesystem::is_regular_file(place)) return place;
  }
  return std::nullopt;
}

std::string referee_places() {
  std::string text;
  for (const std::string& place : places()) text += (text.empty() ? "" : " or ") + place;
  return text;
}

std::vector<std::vector<Verdict>> judge(const std::string& referee,
                                        const std::vector<ToJudge>& cases) {
  const TemporaryFolder folder;
  const std::string asked = folder.file("cases.jsonl");
  const std::string answered = folder.file("verdicts.jsonl");
  {
    std::ofstream file(asked, std::ios::binary);
    for (const ToJudge& one : cases) {
      nlohmann::json line;
      line["production"] = nlohmann::json::parse(one.production);
      line["plans"] = nlohmann::json::array();
      for (const std::string& plan : one.plans)
        line["plans"].push_back(nlohmann::json::parse(plan));
      line["with"] = nlohmann::json::array();
      if (one.answers.maybe) line["with"].push_back("maybe");
      if (one.answers.asked) line["with"].push_back("asked");
      file << line.dump() << '\n';
    }
  }
  const std::string command = "python3 '" GP_SOURCE_DIR "/tests/referee/judge_many.py' '" +
                              referee + "' '" + asked + "' > '" + answered + "'";
  if (std::system(command.c_str()) != 0) throw std::runtime_error("failed: " + command);
  std::ifstream file(answered, std::ios::binary);
  std::vector<std::vector<Verdict>> verdicts;
  for (std::string line; std::getline(file, line);) {
    std::vector<Verdict> of_case;
    for (const auto& answer : nlohmann::json::parse(line)) {
      Verdict verdict;
      if (answer.contains("unreadable")) {
        verdict.unreadable = answer["unreadable"];
      } else {
        verdict.rules = answer["rules"].get<std::set<int>>();
        verdict.texts = answer["texts"].get<std::vector<std::string>>();
        verdict.cost = answer["cost"].dump();
        verdict.price = price_of(answer["cost"]);
      }
      of_case.push_back(std::move(verdict));
    }
    verdicts.push_back(std::move(of_case));
  }
  if (verdicts.size() != cases.size()) throw std::runtime_error("verdicts are missing");
  return verdicts;
}

Price as_judged(Price price) {
  price.first_calls = 0;
  price.filmed_days = 0;
  return price;
}

Price judged_price(const std::string& json) {
  return price_of(nlohmann::json::parse(json));
}

}  // namespace gp::test
