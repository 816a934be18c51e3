#include "model/read_production.h"

#include "model/limits.h"
#include "model/reading.h"
#include "time/clock.h"
#include "time/day_clock.h"

#include <algorithm>
#include <utility>

namespace gp {
namespace {

void read_meal(Reading& reading, const Json& json, const std::string& path, Day& day) {
  Fields fields(reading.faults, json, path, "a meal");
  Meal meal;
  fields.required_text("name", meal.name, TextKind::name);
  fields.required_length("minutes", meal.minutes, 1);
  std::optional<WallSpan> between;
  if (fields.required("between", "a span of time such as \"12:00-14:00\"")) {
    fields.span("between", between);
  }
  fields.truth("together", meal.together);
  fields.whole("seats", meal.seats, 1, limits::kHeads);
  if (fields.finish()) {
    meal.between = between.value_or(WallSpan{});
    const auto taken = std::find_if(day.meals.begin(), day.meals.end(), [&](const Meal& other) {
      return other.name == meal.name;
    });
    if (taken != day.meals.end()) {
      fields.tell(*json.find("name"),
                  path + ".name",
                  "the meal " + quoted(meal.name) + " a second time",
                  "a name of its own on that day");
    }
  }
  day.meals.push_back(std::move(meal));
}

Day read_day(Reading& reading, const Json& json, Origin& origin) {
  Fields fields(reading.faults, json, origin.path, "a day");
  Day day;
  std::optional<Date> date;
  if (fields.required("date", "a date such as \"2027-04-17\"")) {
    fields.date("date", date, limits::kFirstYear);
  }
  day.date = date.value_or(Date{});
  fields.ref("base", reading.places, day.base);
  fields.time("nobody_before", day.nobody_before);
  fields.time("first_shot", day.first_shot);
  fields.time("wrap_by", day.wrap_by);
  fields.each("meals", [&](const Json& meal, const std::string& path) {
    read_meal(reading, meal, path, day);
  });
  fields.text("first_aid", day.first_aid, TextKind::note);
  fields.text("hospital", day.hospital, TextKind::note);
  fields.text("notes", day.notes, TextKind::note);
  origin.clean = fields.finish();
  if (origin.clean && day.wrap_by) {
    const WallTime begins = std::max(day.nobody_before, day.first_shot.value_or(WallTime{}));
    if (*day.wrap_by <= begins) {
      fields.tell(
          *json.find("wrap_by"),
          origin.path + ".wrap_by",
          "\"" + format(*day.wrap_by) + "\", when the day has not begun (" + format(begins) + ")",
          "an end after the beginning (past midnight the hours go on: \"26:00\")");
    }
  }
  return day;
}

void read_zone(Reading& reading, Fields& root) {
  const Json* const json = root.take("zone");
  if (json == nullptr) return;
  if (json->is(JsonKind::text) && is_zone(json->text())) {
    reading.production.zone = json->text();
    return;
  }
  reading.zone_known = false;
  root.tell(*json,
            "zone",
            found_as(*json),
            "the name of a time zone (IANA) such as \"Europe/Dublin\"",
            json->is(JsonKind::text) ? reading.faults.nearest_of(json->text(), zone_names())
                                     : std::string());
}

void collect_ids(Reading& reading, const Json& root) {
  for (KnownIds* known : {&reading.places,
                          &reading.people,
                          &reading.roles,
                          &reading.looks,
                          &reading.stations,
                          &reading.items,
                          &reading.units,
                          &reading.scenes}) {
    known->collect(reading.faults, root);
  }
}

void read_all(Reading& reading, const Json& root) {
  Fields fields(reading.faults, root, "", "a production");
  if (!root.is(JsonKind::object)) return;  // told by now
  collect_ids(reading, root);
  read_settings(reading, fields);
  read_days(reading, fields);
  read_places(reading, fields);
  read_people(reading, fields);
  read_roles(reading, fields);
  read_looks(reading, fields);
  read_stations(reading, fields);
  read_items(reading, fields);
  read_units(reading, fields);
  read_scenes(reading, fields);
  fields.finish();
}

}  // namespace

void read_settings(Reading& reading, Fields& root) {
  Production& production = reading.production;
  const std::string version = "1 (the version of the format)";
  if (root.required("greasepaint", version)) {
    const Json* const json = root.take("greasepaint");
    if (json != nullptr && !(json->is(JsonKind::number) && json->number() == 1)) {
      root.tell(*json, "greasepaint", found_as(*json), version);
    }
  }
  root.required_text("title", production.title, TextKind::name);
  root.language("language", production.language);
  read_zone(reading, root);
  root.choice("paper", production.paper, {{"A4", Paper::a4}, {"Letter", Paper::letter}});
  if (const Json* json = root.take("contact"); json != nullptr) {
    Fields fields(reading.faults, *json, "contact", "a contact");
    fields.text("name", production.contact.name, TextKind::name);
    fields.text("phone", production.contact.phone, TextKind::name);
    fields.finish();
  }
  root.choice("aim",
              production.aim,
              {{"least-time", Aim::least_time}, {"latest-first-call", Aim::latest_first_call}});
  root.length("sign_in_minutes", production.sign_in);
  int round_to = count(production.round_to);
  root.whole("round_to", round_to, 1, limits::kRoundTo);
  production.round_to = Minutes{round_to};
}

void read_days(Reading& reading, Fields& root) {
  if (!root.required("days", "a list of at least one shooting day")) return;
  std::vector<std::pair<Day, Origin>> days;
  std::map<Date, std::string> first_path;
  root.each("days", [&](const Json& json, const std::string& path) {
    Origin origin{&json, path, true};
    Day day = read_day(reading, json, origin);
    if (day.date.ok()) {
      const auto [first, fresh] = first_path.emplace(day.date, path);
      if (!fresh) {
        reading.faults.add(json.find("date")->at(),
                           path + ".date",
                           "the date " + format(day.date) + " a second time",
                           "each date once (" + first->second + " has this one)");
      }
    }
    days.emplace_back(std::move(day), std::move(origin));
  });
  root.not_empty("days", "at least one shooting day");
  std::stable_sort(days.begin(), days.end(), [](const auto& a, const auto& b) {
    return a.first.date < b.first.date;
  });
  for (auto& [day, origin] : days) {
    const Date date = day.date;
    const DayId id = reading.production.days.add(std::move(day));
    reading.origins.days.add(std::move(origin));
    if (date.ok()) reading.day_of.emplace(date, id);
  }
}

std::variant<Production, std::vector<Fault>> read_production(std::string_view text,
                                                             PeopleListed people) {
  JsonRead json = read_json(text);
  Reading reading;
  reading.faults.add(std::move(json.faults));
  if (json.root) {
    read_all(reading, *json.root);
    if (!reading.faults.full()) validate(reading, people);
  }
  if (!reading.faults.empty()) return reading.faults.take();
  return std::move(reading.production);
}

}  // namespace gp
