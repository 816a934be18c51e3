#include "store/documents.h"
#include "store/json_patch.h"
#include "text/dates.h"
#include "time/clock.h"
#include "time/day_clock.h"
#include "web/organiser/common.h"

#include <algorithm>
#include <set>

namespace gp {
namespace {

constexpr std::size_t kMostShown = 300;

/// Which part of a document an operation touches: names of its members, without numbers and values,
/// which may be private.
std::string part_of(const std::string& pointer) {
  std::string part;
  for (const std::string& piece : pointer_pieces(pointer)) {
    const bool place = piece == "-" || piece.find_first_not_of("0123456789") == std::string::npos;
    if (!place) part += (part.empty() ? "" : " › ") + piece;
  }
  return part;
}

std::vector<std::string> parts_of(const Edit& edit) {
  constexpr std::size_t kMost = 6;
  std::vector<std::string> parts;
  for (const Document& operation : edit.patch) {
    if (!operation.is_object() || !operation.contains("path")) continue;
    std::string part = part_of(operation.at("path").get<std::string>());
    if (part.empty() || std::find(parts.begin(), parts.end(), part) != parts.end()) continue;
    if (parts.size() == kMost) {
      parts.emplace_back("…");
      break;
    }
    parts.push_back(std::move(part));
  }
  return parts;
}

void add_who(Visit& visit, ViewData& row, const BookState& state, const std::string& who) {
  if (who == "organiser" || who == "command" || who == "door") {
    row.set("WHO", organiser_words(visit, "history.who." + who));
    return;
  }
  row.set("WHO", organiser_words(visit, "history.who.friend"));
  if (state.sign_up(who)) row.add("FRIEND").set("FRIEND_KEY", who);
}

void add_entry(Visit& visit,
               ViewData& data,
               const BookState& state,
               const HistoryEntry& entry,
               const std::set<Revision>& undone) {
  ViewData& row = data.add("ENTRY");
  row.set("REVISION", entry.revision)
      .set("WHEN", moment_words(*state.production, entry.at, date_tongue(visit)))
      .set("WHY", entry.why)
      .set("CSRF", visit.csrf);
  add_who(visit, row, state, entry.who);
  for (const Edit& edit : entry.edits) {
    const std::vector<std::string> parts = parts_of(edit);
    ViewData& line = row.add("EDIT");
    const std::string_view sign_up = sign_up_id(edit.document);
    line.set("DOCUMENT",
             organiser_words(visit,
                             !sign_up.empty()                       ? "history.sign_up"
                             : edit.document == kProductionDocument ? "history.production"
                                                                    : "history.settings"));
    if (!parts.empty()) line.add("INSIDE").set("PARTS", listed(parts));
    if (!sign_up.empty() && state.sign_up(sign_up)) {
      line.add("SIGN_UP").set("SIGN_UP_KEY", sign_up);
    }
  }
  if (entry.undoes) {
    row.add("UNDOES").set("TEXT",
                          organiser_words(visit, "history.undoes", {{"revision", *entry.undoes}}));
  }
  if (undone.contains(entry.revision)) row.show("UNDONE");
  if (entry.revision > 1) row.show("UNDOABLE");
}

/// The moment a day begins there.
UnixTime beginning_of(const Production& production, Date date) {
  return CalendarDay(date, production.zone).utc(minute(0)).time_since_epoch().count();
}

/// The last Friday before today: "what changed since Friday" is what is asked after a weekend and
/// before the next.
Date last_friday(const Production& production, UnixTime now) {
  using namespace std::chrono;
  sys_days day{date_at(production, now)};
  do {
    day -= days{1};
  } while (weekday{day} != Friday);
  return Date{day};
}

HttpAnswer show_history(Visit& visit) {
  const auto state = visit.site.book().state();
  const Production& production = *state->production;
  const std::string since = query_of(visit, "since");
  ViewData data;
  show_done(visit, data);
  data.set("CSRF", visit.csrf).set("SINCE", since);
  Revision after = std::max<Revision>(0, state->revision - static_cast<Revision>(kMostShown));
  const auto date = parse_date(since);
  if (date && date_exists(*date, production.zone)) {
    after = std::max(after, visit.site.book().revision_at(beginning_of(production, *date) - 1));
    data.add("SINCE_DAY").set("DAY", long_date(*date, date_tongue(visit)));
  } else if (!since.empty()) {
    data.show("WRONG_DATE");
  }
  const Date friday = last_friday(production, visit.now);
  data.set("FRIDAY", format(friday))
      .set("FRIDAY_WORDS",
           organiser_words(
               visit, "history.since_day", {{"day", short_date(friday, date_tongue(visit))}}))
      .set("TODAY", format(date_at(production, visit.now)));
  const auto entries = visit.site.book().history(after, kMostShown);
  std::set<Revision> undone;
  for (const HistoryEntry& entry : entries) {
    if (entry.undoes) undone.insert(*entry.undoes);
  }
  for (auto entry = entries.rbegin(); entry != entries.rend(); ++entry) {
    add_entry(visit, data, *state, *entry, undone);
  }
  if (entries.empty()) data.show("NOTHING");
  return visit.site.show(visit, "organiser/history", organiser_words(visit, "history.title"), data);
}

HttpAnswer again(Visit& visit,
                 const std::optional<std::variant<Kept, Refusal>>& result,
                 const std::string& back) {
  if (!result) return HttpAnswer::go_to(back);
  return after_change(visit, *result, back);
}

HttpAnswer undo(Visit& visit) {
  Book& book = visit.site.book();
  std::string back = visit.request.field("back");
  const bool known = back == "/organise" || back == "/organise/people" ||
                     back == "/organise/scenes" || back == "/organise/settings";
  if (!known) back = "/organise/history";
  if (!visit.request.has_field("revision")) {
    return again(visit, book.undo("organiser", visit.now), back);
  }
  const auto revision = whole_number(visit.request.field("revision"), 2, book.state()->revision);
  if (!revision) return visit.site.show_error(visit, 404);
  return after_change(visit, book.undo_revision(*revision, "organiser", visit.now), back);
}

HttpAnswer redo(Visit& visit) {
  return again(visit, visit.site.book().redo("organiser", visit.now), "/organise/history");
}

HttpAnswer download_copy(Visit& visit) {
  const auto revision = whole_number(visit.path.front(), 1, visit.site.book().state()->revision);
  if (!revision) return visit.site.show_error(visit, 404);
  visit.site.log("a copy of the production was taken out");
  const auto state = visit.site.book().state_at(*revision);
  return HttpAnswer::download("application/json",
                              "production-" + std::to_string(*revision) + ".json",
                              state->production_document->dump(2) + "\n");
}

}  // namespace

void add_history_pages(Site& site) {
  site.add({"GET", "/organise/history", Access::organiser, show_history});
  site.add({"POST", "/organise/history/undo", Access::organiser, undo});
  site.add({"POST", "/organise/history/redo", Access::organiser, redo});
  site.add({"GET", "/organise/history/:revision/copy", Access::organiser, download_copy});
}

}  // namespace gp
