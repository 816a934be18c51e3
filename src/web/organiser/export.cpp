#include "store/settings.h"
#include "time/clock.h"
#include "web/organiser/common.h"
#include "web/organiser/csv.h"
#include "web/organiser/rows.h"

namespace gp {
namespace {

std::string free_cell(const std::optional<std::vector<FreeTime>>& free) {
  if (!free) return "";
  std::string all;
  for (const FreeTime& one : *free) {
    all += (all.empty() ? "" : "; ") + format(one.date);
    if (one.hours) all += " " + format(*one.hours);
  }
  return all;
}

/// Everybody of the production, then who has signed up and is not in it. Nothing of health, sizes
/// or birth dates.
std::string people_csv(const Visit& visit, const BookState& state) {
  const Production& production = *state.production;
  std::string out =
      "\xEF\xBB\xBF";  // spreadsheets take a file without this mark for another script
  std::vector<std::string> head;
  for (const char* const column :
       {"name", "state", "answer", "free", "can", "no", "phone", "email", "guardian"}) {
    head.push_back(organiser_words(visit, std::string("csv.") + column));
  }
  out += csv_line(head);
  for (const Person& person : production.people) {
    out += csv_line({person.shown(),
                     organiser_words(visit, "state.accepted"),
                     organiser_words(visit, "answer." + name_of(person.answer)),
                     free_cell(person.free),
                     listed(person.can),
                     listed(person.no),
                     person.phone,
                     person.email,
                     person.guardian.valid() ? production.people[person.guardian].shown() : ""});
  }
  for (const auto& sign_up : state.sign_ups) {
    if (person_by_id(production, sign_up->person)) continue;
    out += csv_line({sign_up->name,
                     organiser_words(visit, "state." + name_of(sign_up->state)),
                     organiser_words(visit, "answer." + name_of(sign_up->answer)),
                     free_cell(sign_up->free),
                     listed(sign_up->can),
                     listed(sign_up->no),
                     sign_up->phone,
                     sign_up->email,
                     sign_up->guardian});
  }
  return out;
}

HttpAnswer show_export(Visit& visit) {
  const auto state = visit.site.book().state();
  ViewData data;
  data.set("REVISION", state->revision);
  data.set(
      "DAYS",
      organiser_words(visit,
                      "export.days",
                      {{"days", std::int64_t{read_settings(state->settings).forget_after_days}}}));
  return visit.site.show(visit, "organiser/export", organiser_words(visit, "export.title"), data);
}

HttpAnswer download_production(Visit& visit) {
  const auto state = visit.site.book().state();
  visit.site.log("the production was taken out");
  return HttpAnswer::download(
      "application/json", "production.json", state->production_document->dump(2) + "\n");
}

HttpAnswer download_people(Visit& visit) {
  visit.site.log("the list of people was taken out");
  return HttpAnswer::download(
      "text/csv; charset=utf-8", "people.csv", people_csv(visit, *visit.site.book().state()));
}

}  // namespace

std::string csv_cell(std::string_view text) {
  std::string cell = "\"";
  const std::size_t first = text.find_first_not_of(' ');
  if (first != std::string_view::npos &&
      std::string_view("=+-@\t\r\n|%").find(text[first]) != std::string_view::npos) {
    cell += '\'';
  }
  for (const char c : text) {
    if (c == '"') cell += '"';
    cell += c;
  }
  return cell + "\"";
}

std::string csv_line(const std::vector<std::string>& cells) {
  std::string line;
  for (const std::string& cell : cells) line += (line.empty() ? "" : ",") + csv_cell(cell);
  return line + "\r\n";
}

void add_export_pages(Site& site) {
  site.add({"GET", "/organise/export", Access::organiser, show_export});
  site.add({"GET", "/organise/export/production", Access::organiser, download_production});
  site.add({"GET", "/organise/export/people", Access::organiser, download_people});
}

}  // namespace gp
