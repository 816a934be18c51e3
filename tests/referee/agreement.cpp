#include "referee/agreement.h"

#include "base/random.h"
#include "model/plan_json.h"
#include "model/price.h"
#include "support/break_plan.h"
#include "support/builder.h"
#include "support/referee.h"

#include <cstdlib>
#include <fstream>
#include <stdexcept>

namespace gp::test {
namespace {

Judged judged(const std::string& way,
              const Production& production,
              const Plan& plan,
              Answers answers) {
  Judged one;
  one.way = way;
  one.plan = write_plan(production, plan);
  const Plan read = plan_of(one.plan, production);
  if (!(read == plan))
    throw std::runtime_error("a plan changed on its way through its file: " + way);
  one.ours = check(production, read, answers);
  one.price = as_judged(price(production, read));
  return one;
}

std::string keep(const Pairs& pair, const Judged& plan) {
  const char* folder = std::getenv("GREASEPAINT_KEEP");
  if (folder == nullptr) return "";
  std::string name = pair.name + "-" + plan.way;
  for (char& letter : name) {
    if (letter == ' ' || letter == '/') letter = '-';
  }
  const std::string path = std::string(folder) + "/" + name;
  std::ofstream(path + ".json") << pair.production;
  std::ofstream(path + ".plan.json") << plan.plan;
  return "\n  kept as " + path + ".json";
}

std::string words(const Judged& ours, const Verdict& theirs) {
  std::string text = "\n  ours:";
  for (const Broken& one : ours.ours) {
    text += "\n    rule " + std::to_string(one.rule) + ": " + one.where + ": " + one.what;
  }
  text += "\n  the referee's:";
  for (const std::string& one : theirs.texts) text += "\n    " + one;
  return text;
}

std::string prices(const Price& ours, const Price& theirs) {
  const auto one = [](const Price& cost) {
    std::string text;
    for (const std::int64_t number : {cost.not_filmed,
                                      cost.optional_not_filmed,
                                      std::int64_t{cost.unfilled},
                                      cost.on_site,
                                      cost.weighted_on_site,
                                      cost.waiting,
                                      cost.span,
                                      cost.wrap}) {
      text += " " + std::to_string(number);
    }
    return text;
  };
  return "\n  prices: ours" + one(ours) + ", the referee's" + one(theirs);
}

}  // namespace

Pairs pairs_of(const std::string& name,
               const std::string& production_text,
               const Plan& right,
               Answers answers,
               std::uint64_t seed,
               std::size_t most) {
  const Production production = production_of(production_text);
  Pairs pair;
  pair.name = name;
  pair.production = production_text;
  pair.answers = answers;
  pair.plans.push_back(judged("right", production, right, answers));
  Random random(seed);
  std::vector<BrokenPlan> broken = break_plan(production, right, random);
  random.shuffle(broken);
  if (broken.size() > most)
    broken.erase(broken.begin() + static_cast<std::ptrdiff_t>(most), broken.end());
  for (const BrokenPlan& one : broken) {
    pair.plans.push_back(judged(one.way, production, one.plan, answers));
  }
  return pair;
}

Agreement compare(const std::string& referee, const std::vector<Pairs>& cases) {
  std::vector<ToJudge> questions;
  for (const Pairs& pair : cases) {
    ToJudge question{pair.production, {}, pair.answers};
    for (const Judged& plan : pair.plans) question.plans.push_back(plan.plan);
    questions.push_back(std::move(question));
  }
  const auto verdicts = judge(referee, questions);
  Agreement agreement;
  for (std::size_t i = 0; i < cases.size(); ++i) {
    for (std::size_t j = 0; j < cases[i].plans.size(); ++j) {
      const Judged& ours = cases[i].plans[j];
      const Verdict& theirs = verdicts[i].at(j);
      ++agreement.asked;
      for (const int rule : theirs.rules) ++agreement.named[rule];
      const std::string where = cases[i].name + ", " + ours.way + ": ";
      if (!theirs.unreadable.empty()) {
        agreement.disagreements.push_back(
            where + "the referee cannot read it: " + theirs.unreadable + keep(cases[i], ours));
      } else if (rules(ours.ours) != theirs.rules) {
        agreement.disagreements.push_back(where + "other rules" + words(ours, theirs) +
                                          keep(cases[i], ours));
      } else if (!(ours.price == theirs.price)) {
        agreement.disagreements.push_back(where + "another price" +
                                          prices(ours.price, theirs.price) + keep(cases[i], ours));
      }
    }
  }
  return agreement;
}

}  // namespace gp::test
