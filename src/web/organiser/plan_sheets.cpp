#include "web/organiser/plan_sheets.h"

#include "text/dates.h"
#include "text/width.h"
#include "time/clock.h"
#include "web/organiser/zip.h"

#include <algorithm>
#include <mutex>

namespace gp {
namespace {

std::shared_ptr<const OrganiserPlan> plan_of_address(Visit& visit) {
  const auto number = whole_number(visit.path.front(), 1, INT64_MAX / 100);
  return number ? plan_numbered(visit.site, *number) : nullptr;
}

/// "day", "slips" … of "day-2027-04-17.pdf"
std::string kind_of(const std::string& name) {
  return name.substr(0, name.find('-'));
}

HttpAnswer show_sheets(Visit& visit) {
  const auto plan = plan_of_address(visit);
  if (!plan) return visit.site.show_error(visit, 404);
  const auto sheets = sheets_of(visit.site, *plan);
  ViewData data;
  data.set("NUMBER", plan->kept.number);
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
  const auto sheets = sheets_of(visit.site, *plan);
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
  const auto sheets = sheets_of(visit.site, *plan);
  std::vector<ZipFile> files;
  for (const SheetFile& file : sheets->files) {
    if (file.name.find(format(*date)) != std::string::npos)
      files.push_back({file.name, file.bytes});
  }
  if (files.empty()) return visit.site.show_error(visit, 404);
  return HttpAnswer::download("application/zip", "sheets-" + format(*date) + ".zip", zip_of(files));
}

}  // namespace

std::shared_ptr<const Sheets> sheets_of(Site& site, const OrganiserPlan& plan) {
  static std::mutex mutex;
  static const Book* book = nullptr;
  static std::int64_t number = 0;
  static std::string sha;
  static std::shared_ptr<const Sheets> made;
  const std::lock_guard<std::mutex> lock(mutex);
  if (book != &site.book() || number != plan.kept.number || sha != plan.kept.production_sha ||
      !made) {
    SheetWishes wishes;
    wishes.templates_dir = site.parts().templates_dir;
    made = std::make_shared<const Sheets>(make_sheets(*plan.production, plan.plan, wishes));
    book = &site.book();
    number = plan.kept.number;
    sha = plan.kept.production_sha;
  }
  return made;
}

void add_sheet_pages(Site& site) {
  site.add({"GET", "/organise/plan/:number/sheets", Access::organiser, show_sheets});
  site.add({"GET", "/organise/plan/:number/sheets/:file", Access::organiser, download_sheet});
  site.add({"GET", "/organise/plan/:number/day/:date", Access::organiser, download_day});
}

}  // namespace gp
