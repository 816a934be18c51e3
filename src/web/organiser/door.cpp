#include "sheets/day_facts.h"
#include "store/json_diff.h"
#include "text/dates.h"
#include "text/order.h"
#include "time/clock.h"
#include "web/organiser/common.h"

#include <algorithm>
#include <map>

// The list at the door: who is expected when, and who is here. A helper sees names, calls,
// guardians and who will be late; no phone, no answers, nothing of health.

namespace gp {
namespace {

std::string door_words(const Visit& visit,
                       std::string_view key,
                       const std::vector<WordValue>& values = {}) {
  return visit.say("door", key, values);
}

/// Who is here on a day: keys of people (person_key) and when they were ticked in. Kept among the
/// settings, under "door" and the date, so that ticks are part of the history like everything else.
std::map<std::string, UnixTime> ticked(const BookState& state, const std::string& date) {
  std::map<std::string, UnixTime> here;
  const auto door = state.settings.find("door");
  if (door == state.settings.end() || !door->is_object()) return here;
  const auto day = door->find(date);
  if (day == door->end() || !day->is_object()) return here;
  for (const auto& [key, at] : day->items()) {
    if (at.is_number_integer()) here[key] = at.get<UnixTime>();
  }
  return here;
}

/// Ticks somebody in or out. Two doors may tick at once: who comes second looks again.
std::variant<Kept, Refusal> tick(Visit& visit,
                                 const std::string& date,
                                 const std::string& key,
                                 bool here) {
  constexpr int kTries = 5;
  std::variant<Kept, Refusal> result;
  for (int i = 0; i < kTries; ++i) {
    const auto state = visit.site.book().state();
    Document after = state->settings.is_object() ? state->settings : Document::object();
    if (here) {
      if (!after["door"][date].contains(key)) after["door"][date][key] = visit.now;
    } else if (after.contains("door") && after["door"].contains(date)) {
      after["door"][date].erase(key);
    }
    Change change;
    change.who = "door";
    change.why = here ? "somebody came in" : "somebody was not here after all";
    change.at = visit.now;
    change.seen = state->revision;
    change.edits.push_back({"settings",
                            state->settings.is_null()
                                ? Document::array({{{"op", "add"}, {"path", ""}, {"value", after}}})
                                : difference(state->settings, after)});
    if (change.edits.front().patch.empty()) return Kept{state->revision, false};
    result = visit.site.book().change(std::move(change));
    if (std::holds_alternative<Kept>(result)) break;
  }
  return result;
}

/// One who is expected.
struct Expected {
  PersonId person;
  std::string call, parts;
  bool child = false;
};

struct DoorDay {
  DayId day;
  std::string date;
  std::vector<Expected> expected;
  bool planned = false;
};

/// Today, where it is a shooting day; else the next one; else the last.
std::optional<DayId> day_to_show(const Production& production,
                                 Date today,
                                 const std::string& asked) {
  std::optional<DayId> found;
  for (const DayId day : production.days.ids()) {
    const Date date = production.days[day].date;
    if (format(date) == asked) return day;
    if (asked.empty() && date >= today && !(found && production.days[*found].date >= today)) {
      found = day;
    }
    if (asked.empty() && date < today) found = day;
  }
  return found;
}

bool comes_on(const Person& person, Date date) {
  if (person.answer == Answer::no) return false;
  return !person.free || std::any_of(person.free->begin(),
                                     person.free->end(),
                                     [&](const FreeTime& f) { return f.date == date; });
}

/// By call, then by name; without a plan everybody who is free that day, by name.
DoorDay expected_on(Visit& visit, const BookState& state, DayId day) {
  const Production& production = *state.production;
  DoorDay result{day, format(production.days[day].date), {}, false};
  const NameOrder order(visit.language);
  if (const auto read = visit.site.plans().newest()) {
    for (const auto& of_day : read->days) {
      const DayFacts& facts = *of_day;
      if (format(facts.day().date) != result.date) continue;
      result.planned = true;
      for (const Stay& stay : facts.plan().people) {
        // the plan's people by their ids: the production may have changed since
        const auto person = person_by_id(production, read->production->people[stay.person].id);
        if (!person) continue;
        result.expected.push_back({*person,
                                   facts.clock(stay.call),
                                   listed(facts.parts(stay.person)),
                                   facts.is_child(stay.person)});
      }
    }
  }
  if (!result.planned) {
    for (const PersonId id : production.people.ids()) {
      const Person& person = production.people[id];
      if (comes_on(person, production.days[day].date)) {
        result.expected.push_back({id, "", "", person.guardian.valid()});
      }
    }
  }
  std::map<PersonId, std::string> keys;
  for (const Expected& one : result.expected) {
    keys[one.person] = order.key(production.people[one.person].shown());
  }
  // the plan has them by call: elapsed minutes, which "01:30⁺¹" as a text is not
  std::size_t from = 0;
  while (from < result.expected.size()) {
    std::size_t until = from;
    while (until < result.expected.size() &&
           result.expected[until].call == result.expected[from].call) {
      ++until;
    }
    std::sort(
        result.expected.begin() + static_cast<std::ptrdiff_t>(from),
        result.expected.begin() + static_cast<std::ptrdiff_t>(until),
        [&](const Expected& a, const Expected& b) { return keys[a.person] < keys[b.person]; });
    from = until;
  }
  return result;
}

/// "20 minutes late", "cannot come"; empty: nothing was told.
std::string told_of(const Visit& visit,
                    const BookState& state,
                    const std::string& person,
                    Date date) {
  const auto sign_up = state.sign_up_of_person(person);
  if (!sign_up) return "";
  std::string text;
  for (const Notice& notice : sign_up->notices) {
    if (notice.day != date) continue;
    text = notice.cannot_come
               ? door_words(visit, "cannot_come")
               : door_words(visit, "late", {{"minutes", std::int64_t{notice.minutes_late}}});
  }
  return text;
}

std::string count_words(const Visit& visit, const DoorDay& day, const BookState& state) {
  const auto here = ticked(state, day.date);
  const auto came =
      std::count_if(day.expected.begin(), day.expected.end(), [&](const Expected& one) {
        return here.contains(person_key(state.production->people[one.person].id));
      });
  return door_words(visit,
                    "count",
                    {{"here", static_cast<std::int64_t>(came)},
                     {"all", static_cast<std::int64_t>(day.expected.size())}});
}

void add_rows(Visit& visit, ViewData& data, const DoorDay& day, const BookState& state) {
  const Production& production = *state.production;
  const auto here = ticked(state, day.date);
  std::string call = "-";
  ViewData* group = nullptr;
  for (const Expected& one : day.expected) {
    if (group == nullptr || one.call != call) {
      call = one.call;
      group = &data.add("GROUP");
      group->set("CALL", call.empty() ? door_words(visit, "no_call") : call);
    }
    const Person& person = production.people[one.person];
    const std::string key = person_key(person.id);
    ViewData& row = group->add("ROW");
    row.set("NAME", person.shown())
        .set("KEY", key)
        .set("DATE", day.date)
        .set("PARTS", one.parts)
        .set("CSRF", visit.csrf);
    if (one.child) row.show("CHILD");
    if (person.guardian.valid()) {
      row.add("WITH").set(
          "TEXT",
          door_words(visit, "with", {{"name", production.people[person.guardian].shown()}}));
    }
    const Date date = production.days[day.day].date;
    if (const std::string told = told_of(visit, state, person.id, date); !told.empty()) {
      row.add("TOLD").set("TEXT", told);
    }
    if (const auto found = here.find(key); found != here.end()) {
      row.add("HERE").set(
          "SINCE",
          door_words(visit,
                     "since",
                     {{"when", moment_words(production, found->second, date_tongue(visit))}}));
    } else {
      row.show("NOT_HERE");
    }
  }
}

HttpAnswer show_door(Visit& visit) {
  const auto state = visit.site.book().state();
  const Production& production = *state->production;
  const Date today = date_at(production, visit.now);
  const auto day = day_to_show(production, today, query_of(visit, "day"));
  if (!day) return visit.site.show_error(visit, 404);
  const DoorDay list = expected_on(visit, *state, *day);
  ViewData data;
  data.set("DAY", long_date(production.days[*day].date, date_tongue(visit)))
      .set("DATE", list.date)
      .set("COUNT", count_words(visit, list, *state))
      .set("CSRF", visit.csrf);
  if (production.days[*day].date != today) data.show("NOT_TODAY");
  if (!list.planned) data.show("NO_PLAN");
  if (list.expected.empty()) data.show("NOBODY");
  add_rows(visit, data, list, *state);
  if (production.days.size() > 1) {
    ViewData& days = data.add("DAYS");
    for (const DayId other : production.days.ids()) {
      const Date date = production.days[other].date;
      ViewData& row = days.add("OTHER");
      row.set("LABEL", short_date(date, date_tongue(visit))).set("OTHER_DATE", format(date));
      row.show(other == *day ? "SHOWN" : "LINKED");
    }
  }
  return visit.site.show(visit, "door/list", door_words(visit, "title"), data);
}

/// How many are here, for the script that asks now and then.
HttpAnswer show_count(Visit& visit) {
  const auto state = visit.site.book().state();
  const auto day = day_to_show(
      *state->production, date_at(*state->production, visit.now), query_of(visit, "day"));
  if (!day) return visit.site.show_error(visit, 404);
  ViewData data;
  data.set("COUNT", count_words(visit, expected_on(visit, *state, *day), *state));
  return HttpAnswer::page(visit.site.views().part("door/count", data, visit.language));
}

HttpAnswer tick_one(Visit& visit) {
  const auto state = visit.site.book().state();
  const std::string date = visit.request.field("day");
  const std::string key = visit.request.field("person");
  const auto person = person_by_key(*state->production, key);
  const auto parsed = parse_date(date);
  const bool is_day = parsed && std::any_of(state->production->days.begin(),
                                            state->production->days.end(),
                                            [&](const Day& day) { return day.date == *parsed; });
  if (!person || !is_day) return visit.site.show_error(visit, 404);
  const auto result = tick(visit, date, key, visit.request.field("here") == "1");
  constexpr int kBusy = 503;
  if (std::holds_alternative<Refusal>(result)) return visit.site.show_error(visit, kBusy);
  return HttpAnswer::go_to("/door?day=" + date + "#" + key);
}

}  // namespace

void add_door_pages(Site& site) {
  site.add({"GET", "/door", Access::door, show_door});
  site.add({"GET", "/door/count", Access::door, show_count});
  site.add({"POST", "/door/tick", Access::door, tick_one});
}

}  // namespace gp
