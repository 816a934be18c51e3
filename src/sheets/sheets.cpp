#include "sheets/sheets.h"

#include "sheets/kit.h"
#include "text/clean.h"
#include "time/clock.h"

namespace gp {

Sheets make_sheets(const Production& production, const Plan& plan, const SheetWishes& wishes) {
  Sheets sheets;
  Fonts fonts(wishes.font_dirs);
  WordBook book(wishes.templates_dir + "/words");
  Typesetter set(fonts, production.language);
  Kit kit{set, book, wishes.paper.value_or(production.paper), sheets.warnings};
  for (const DayPlan& day : plan.days) {
    const DayFacts facts(production, day);
    const std::string date = format(production.days[day.day].date);
    auto keep = [&](const char* kind, std::string bytes) {
      if (!bytes.empty()) sheets.files.push_back({kind + date + ".pdf", std::move(bytes)});
    };
    keep("day-", day_page(facts, plan, kit));
    keep("slips-", slips(facts, kit));
    keep("stations-", station_lists(facts, kit));
    keep("door-", door_list(facts, kit));
    keep("pull-", pull_list(facts, kit));
  }
  const Words& words = book.in("en");
  for (const auto& [character, text] : set.without_font()) {
    const auto run = script_runs(to_utf16(character));
    const std::string package = Fonts::package_for(run.empty() ? "Zyyy" : run.front().script);
    sheets.warnings.push_back(words.say(
        package.empty() ? "warning.no_font_known" : "warning.no_font",
        {{"character", describe_character(character)}, {"text", text}, {"package", package}}));
  }
  for (std::string& warning : sheets.warnings) warning = without_isolates(warning);
  return sheets;
}

}  // namespace gp
