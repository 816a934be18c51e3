#include "web/organiser/common.h"

#include "base/sha256.h"
#include "model/texts.h"
#include "sheets/day_facts.h"
#include "text/dates.h"
#include "time/clock.h"
#include "time/day_clock.h"
#include "web/friends/asked.h"
#include "web/organiser/form.h"

#include <algorithm>
#include <cctype>
#include <cmath>

namespace gp {
namespace {

constexpr int kMinutesADay = 24 * 60;

struct LocalMoment {
  Date date;
  int minutes = 0;
};

/// The moment on the production's own calendar.
LocalMoment local(const Production& production, UnixTime at) {
  using namespace std::chrono;
  const sys_seconds moment{seconds{at}};
  // no zone is more than a day from UTC: the last midnight that has begun is the day's
  for (int ahead = 1; ahead >= -1; --ahead) {
    const Date date{floor<days>(moment) + days{ahead}};
    if (!date.ok() || !date_exists(date, production.zone)) continue;
    const CalendarDay day(date, production.zone);
    const auto since = floor<minutes>(moment - day.utc(minute(0)));
    if (since.count() < 0) continue;
    return {date, day.shown(minute(static_cast<std::int32_t>(since.count()))).minutes};
  }
  return {Date{floor<days>(moment)}, 0};
}

std::string shown_value(const Visit& visit, const Document& value) {
  if (value.is_null()) return organiser_words(visit, "collision.nothing");
  if (value.is_string()) return value.get<std::string>();
  return value.dump(-1, ' ', false, Document::error_handler_t::replace);
}

}  // namespace

std::string organiser_words(const Visit& visit,
                            std::string_view key,
                            const std::vector<WordValue>& values) {
  return visit.say("organiser", key, values);
}

std::string person_key(std::string_view person_id) {
  return "p" + sha256(person_id).substr(0, 12);
}

std::string date_tongue(const Visit& visit) {
  return date_language(*visit.site.book().state()->production, visit.language);
}

std::optional<PersonId> person_by_key(const Production& production, std::string_view key) {
  for (const PersonId id : production.people.ids()) {
    if (person_key(production.people[id].id) == key) return id;
  }
  return std::nullopt;
}

std::optional<PersonId> person_by_id(const Production& production, std::string_view id) {
  for (const PersonId person : production.people.ids()) {
    if (production.people[person].id == id) return person;
  }
  return std::nullopt;
}

std::string moment_words(const Production& production, UnixTime at, const std::string& language) {
  const LocalMoment moment = local(production, at);
  return short_date(moment.date, language) + ", " +
         clock_text(WallTime{moment.minutes % kMinutesADay});
}

Date date_at(const Production& production, UnixTime at) {
  return local(production, at).date;
}

std::string free_words(const Visit& visit,
                       const Production& production,
                       const std::optional<std::vector<FreeTime>>& free) {
  if (!free) return organiser_words(visit, "free.always");
  std::vector<std::string> days;
  for (const Day& day : production.days) {
    std::vector<std::string> hours;
    bool comes = false;
    for (const FreeTime& one : *free) {
      if (one.date != day.date) continue;
      comes = true;
      if (one.hours)
        hours.push_back(clock_text(one.hours->from) + "–" + clock_text(one.hours->until));
    }
    if (!comes) continue;
    days.push_back(short_date(day.date, date_tongue(visit)) +
                   (hours.empty() ? "" : " " + listed(hours)));
  }
  if (days.empty()) return organiser_words(visit, "free.never");
  std::string all;
  for (const std::string& day : days) all += (all.empty() ? "" : "; ") + day;
  return all;
}

std::string listed(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? "" : ", ") + word;
  return all;
}

std::string chance_words(const Visit& visit, double chance) {
  const auto per_cent = static_cast<std::int64_t>(std::lround(chance * 100));
  if (per_cent >= 100) return organiser_words(visit, "chance.nearly_sure");
  if (per_cent <= 0) return organiser_words(visit, "chance.hardly");
  return organiser_words(visit, "chance.about", {{"percent", per_cent}});
}

std::optional<std::int64_t> whole_number(std::string_view text,
                                         std::int64_t least,
                                         std::int64_t most) {
  constexpr std::size_t kMostDigits = 15;
  if (text.empty() || text.size() > kMostDigits) return std::nullopt;
  std::int64_t number = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    number = number * 10 + (c - '0');
  }
  if (number < least || number > most) return std::nullopt;
  return number;
}

std::string query_of(const Visit& visit, const std::string& name) {
  const auto found = visit.request.query.find(name);
  return found == visit.request.query.end() ? "" : found->second;
}

bool out_of_date(const BookState& state, const ReadPlan& plan) {
  return plan.kept->made_from != state.revision && !(*state.production == *plan.production);
}

HttpAnswer after_change(Visit& visit,
                        const std::variant<Kept, Refusal>& result,
                        const std::string& back) {
  if (const auto* refusal = std::get_if<Refusal>(&result)) {
    return show_refusal(visit, *refusal, back);
  }
  const char* const join = back.find('?') == std::string::npos ? "?" : "&";
  return HttpAnswer::go_to(back + join + "done=" + std::to_string(std::get<Kept>(result).revision));
}

void show_done(Visit& visit, ViewData& data) {
  const auto revision = whole_number(query_of(visit, "done"), 1, INT64_MAX / 100);
  if (!revision) return;
  const auto entries = visit.site.book().history(*revision - 1, 1);
  if (entries.empty() || entries.front().revision != *revision) return;
  ViewData& done = data.add("DONE");
  done.set("WHAT", entries.front().why).set("REVISION", *revision).set("CSRF", visit.csrf);
  done.set("BACK", visit.request.path);
}

void add_collisions(Visit& visit, ViewData& data, const std::vector<Collision>& collisions) {
  if (collisions.empty()) return;
  ViewData table;
  for (const Collision& collision : collisions) {
    table.add("COLLISION")
        .set("PLACE", collision.path)
        .set("BEFORE", shown_value(visit, collision.before))
        .set("THEIRS", shown_value(visit, collision.theirs))
        .set("MINE", shown_value(visit, collision.mine));
  }
  // a template's, which escaped every value
  data.set_markup("COLLISIONS",
                  visit.site.views().part("organiser/collisions", table, visit.language));
}

std::string fault_words(const Fault& fault) {
  std::string text = fault.path;
  if (!fault.found.empty()) text += (text.empty() ? "found " : ": found ") + fault.found;
  if (!fault.expected.empty())
    text += (text.empty() ? "expected " : ", expected ") + fault.expected;
  if (!fault.nearest.empty()) text += "; nearest: “" + fault.nearest + "”";
  return text;
}

HttpAnswer show_refusal(Visit& visit, const Refusal& refusal, const std::string& back) {
  ViewData data;
  data.set("BACK", back);
  for (const Fault& fault : refusal.faults) data.add("FAULT").set("TEXT", fault_words(fault));
  add_collisions(visit, data, refusal.collisions);
  constexpr int kConflict = 409;
  return visit.site.show(
      visit, "organiser/refused", organiser_words(visit, "refused.title"), data, kConflict);
}

std::string new_entry_id(const Document& production, const char* list, const std::string& name) {
  std::string id = id_like(name);
  std::transform(id.begin(), id.end(), id.begin(), [](unsigned char c) {
    return c < 0x80 ? static_cast<char>(std::tolower(c)) : static_cast<char>(c);
  });
  constexpr std::size_t kMost = 40;
  if (id.size() > kMost) {
    std::size_t end = kMost;
    while (end > 0 && (static_cast<unsigned char>(id[end]) & 0xC0U) == 0x80U) --end;
    id.resize(end);
  }
  if (id.empty()) id = list;
  std::vector<std::string> taken;
  if (const auto entries = production.find(list); entries != production.end()) {
    for (const Document& entry : *entries) taken.push_back(member_text(entry, "id"));
  }
  const std::string stem = id;
  for (int number = 2; std::find(taken.begin(), taken.end(), id) != taken.end(); ++number) {
    id = stem + "-" + std::to_string(number);
  }
  return id;
}

std::shared_ptr<const BookState> state_seen(Visit& visit) {
  auto newest = visit.site.book().state();
  const auto seen = whole_number(visit.request.field("seen"), 1, newest->revision);
  return seen && *seen < newest->revision ? visit.site.book().state_at(*seen) : newest;
}

std::optional<std::size_t> entry_place(const Document& production,
                                       const char* list,
                                       const std::string& id) {
  const auto entries = production.find(list);
  if (entries == production.end() || !entries->is_array()) return std::nullopt;
  for (std::size_t i = 0; i < entries->size(); ++i) {
    if (member_text((*entries)[i], "id") == id) return i;
  }
  return std::nullopt;
}

}  // namespace gp
