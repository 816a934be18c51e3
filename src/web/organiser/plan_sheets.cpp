#include "web/organiser/plan_sheets.h"

#include "text/dates.h"
#include "text/width.h"
#include "time/clock.h"
#include "web/organiser/zip.h"

#include <memory>

namespace gp {
namespace {

std::shared_ptr<const ReadPlan> plan_of_address(Visit& visit) {
  const auto number = whole_number(visit.path.front(), 1, INT64_MAX / 100);
  return number ? visit.site.plans().numbered(*number) : nullptr;
}

/// "day", "slips" … of "day-2027-04-17.pdf"
std::string kind_of(const std::string& name) {
  return name.substr(0, name.find('-'));
}

HttpAnswer show_sheets(Visit& visit) {
  const auto plan = plan_of_address(visit);
  if (!plan) return visit.site.show_error(visit, 404);
  const auto sheets = visit.site.plans().sheets(*plan);
  ViewData data;
  data.set("NUMBER", plan->kept->number);
  for (const DayPlan& day_plan : plan->plan.days) {
    const Date date = plan->production->days[day_plan.day].date;
    const std::string iso = format(date);
    ViewData* day = nullptr;
    for (const SheetFile& file : sheets->files) {
      if (file.name.find(iso) == std::string::npos) continue;
      if (day == nullptr) {
        day = &data.add("DAY");
        day->set("DATE", long_date(date, date_tongue(visit))).set("ISO", iso);
      }
      day->add("SHEET")
          .set("FILE", file.name)
          .set("LABEL", organiser_words(visit, "sheets." + kind_of(file.name)))
          .set("KILOBYTES", static_cast<std::int64_t>((file.bytes.size() + 1023) / 1024));
    }
  }
  for (const std::string& warning : sheets->warnings) {
    data.add("WARNING").set("TEXT", harmless(warning));
  }
  if (sheets->files.empty()) data.show("NONE");
  return visit.site.show(visit, "organiser/sheets", organiser_words(visit, "sheets.title"), data);
}

HttpAnswer download_sheet(Visit& visit) {
  const auto plan = plan_of_address(visit);
  if (!plan) return visit.site.show_error(visit, 404);
  const auto sheets = visit.site.plans().sheets(*plan);
  for (const SheetFile& file : sheets->files) {
    if (file.name == visit.path.at(1)) {
      return HttpAnswer::download("application/pdf", file.name, file.bytes);
    }
  }
  return visit.site.show_error(visit, 404);
}

HttpAnswer download_day(Visit& visit) {
  const auto plan = plan_of_address(visit);
  const auto date = parse_date(visit.path.at(1));
  if (!plan || !date) return visit.site.show_error(visit, 404);
  const auto sheets = visit.site.plans().sheets(*plan);
  std::vector<ZipFile> files;
  for (const SheetFile& file : sheets->files) {
    if (file.name.find(format(*date)) != std::string::npos)
      files.push_back({file.name, file.bytes});
  }
  if (files.empty()) return visit.site.show_error(visit, 404);
  return HttpAnswer::download("application/zip", "sheets-" + format(*date) + ".zip", zip_of(files));
}

}  // namespace

void add_sheet_pages(Site& site) {
  site.add({"GET", "/organise/plan/:number/sheets", Access::organiser, show_sheets});
  site.add({"GET", "/organise/plan/:number/sheets/:file", Access::organiser, download_sheet});
  site.add({"GET", "/organise/plan/:number/day/:date", Access::organiser, download_day});
}

}  // namespace gp
