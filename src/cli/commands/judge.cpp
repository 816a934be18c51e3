#include "base/json.h"
#include "cli/commands/commands.h"
#include "cli/show_plan.h"
#include "model/plan_json.h"
#include "model/price.h"
#include "text/width.h"

#include <algorithm>
#include <utility>

namespace gp {
namespace {

/// Thousandths without noughts at the end: "2", "1.5".
std::string thousandths(Thousandths value) {
  std::string text = std::to_string(value / 1000);
  std::string rest = std::to_string(value % 1000 + 1000).substr(1);
  while (!rest.empty() && rest.back() == '0') rest.pop_back();
  return rest.empty() ? text : text + "." + rest;
}

std::string cost_lines(const Price& cost) {
  return "not filmed: worth " + thousandths(cost.not_filmed) + ", of optional scenes " +
         thousandths(cost.optional_not_filmed) +
         "\nnot filled: " + counted(static_cast<std::size_t>(cost.unfilled), "head", "heads") +
         "\non site: " + std::to_string(cost.on_site) + " min (" + length_text(cost.on_site) +
         "), weighted " + thousandths(cost.weighted_on_site) + ", waiting " +
         std::to_string(cost.waiting) + " min (" + length_text(cost.waiting) + ")\n";
}

}  // namespace

ExitCode judge_plan(const Arguments& arguments, Shell& shell) {
  const std::string& production_path = arguments.positional[0];
  const std::string& plan_path = arguments.positional[1];
  if (production_path == "-" && plan_path == "-") {
    throw UsageError("FILE and PLAN cannot both be standard input; see: greasepaint help judge");
  }
  const auto read = read_production_file(production_path, shell);
  if (!read) return ExitCode::faults;
  const std::string bytes = shell.files.read(plan_path, kMostJsonBytes);
  auto read_back = read_plan(bytes, read->production);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read_back)) {
    tell_faults(*faults, plan_path, bytes, shell);
    return ExitCode::faults;
  }
  const Plan& plan = std::get<Plan>(read_back);
  const std::vector<Broken> broken = check(read->production, plan, answers_of(arguments));
  for (const Broken& one : broken) {
    shell.out << "rule " << one.rule << ": " << harmless(one.where) << ": " << harmless(one.what)
              << '\n';
  }
  shell.out << (broken.empty() ? "no rule is broken" : "broken: " + std::to_string(broken.size()))
            << '\n'
            << cost_lines(price(read->production, plan));
  if (!broken.empty()) return ExitCode::faults;
  return plan.not_filmed.empty() && plan.unfilled.empty() ? ExitCode::right : ExitCode::not_all;
}

}  // namespace gp
