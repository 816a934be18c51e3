#include "model/limits.h"
#include "model/plan_fields.h"
#include "model/plan_json.h"
#include "model/price.h"
#include "time/clock.h"
#include "time/day_clock.h"

#include <cstdint>
#include <set>

namespace gp {
namespace {

using plan_file::Fields;
using plan_file::Value;

/// More than any number of minutes or places that a plan can have.
constexpr std::int64_t kMostMinutes = 1'000'000;
/// More heads than a production can have people; of as many entries as a file can hold the sum
/// still fits.
constexpr std::int64_t kMostHeads = limits::kEntries;
constexpr std::int64_t kMostTotal = 1'000'000'000'000;

template <class IdType, class T>
KnownIds ids(const char* list, const char* noun, const Table<IdType, T>& table) {
  KnownIds names(list, noun);
  for (const T& row : table) names.add(row.id);
  return names;
}

class PlanReader {
 public:
  PlanReader(const Production& production, FaultList& faults)
      : production_(production),
        faults_(faults),
        dates_("days", "a day of the production"),
        scenes_(ids("scenes", "a scene of the production", production.scenes)),
        units_(ids("units", "a unit of the production", production.units)),
        roles_(ids("roles", "a role of the production", production.roles)),
        people_(ids("people", "a person of the production", production.people)),
        looks_(ids("looks", "a look of the production", production.looks)),
        stations_(ids("stations", "a station of the production", production.stations)),
        items_(ids("items", "an item of the production", production.items)),
        parts_("part", "on or off"),
        levels_("level", "warning or hint") {
    for (const Day& day : production.days) dates_.add(format(day.date));
    for (const char* part : {"on", "off"}) parts_.add(part);
    for (const char* level : {"warning", "hint"}) levels_.add(level);
  }

  Plan read(const Json& root) {
    Fields fields({&root, ""},
                  {"greasepaint_plan",
                   "title",
                   "made_from",
                   "days",
                   "unfilled",
                   "not_filmed",
                   "notes",
                   "totals"},
                  faults_);
    Plan plan;
    fields.needed_whole("greasepaint_plan", 1, 1);
    plan.title = fields.text("title");
    plan.made_from = fields.text("made_from");
    fields.needed("days", "a list of the days planned");
    std::set<DayId> seen;
    for (const Value& row : fields.list("days")) {
      if (auto day = read_day(row, seen)) plan.days.push_back(std::move(*day));
    }
    for (const Value& row : fields.list("unfilled")) {
      if (auto entry = read_unfilled(row)) plan.unfilled.push_back(std::move(*entry));
    }
    for (const Value& row : fields.list("not_filmed")) {
      Fields entry(row, {"scene", "why"}, faults_);
      const auto scene = entry.needed_name("scene", scenes_);
      std::string why = entry.text("why");
      if (scene) plan.not_filmed.push_back({SceneId(*scene), std::move(why)});
    }
    for (const Value& row : fields.list("notes")) {
      Fields note(row, {"level", "about", "text"}, faults_);
      const auto level = note.needed_name("level", levels_);
      plan.notes.push_back({level ? levels_.names()[*level] : "warning",
                            note.text("about"),
                            note.needed_text("text")});
    }
    read_totals(fields.value("totals"), plan);
    return plan;
  }

 private:
  std::optional<DayPlan> read_day(const Value& row, std::set<DayId>& seen) {
    Fields fields(
        row,
        {"date", "first_shot", "wrap", "scenes", "wears", "steps", "ready", "meals", "people"},
        faults_);
    const auto number = fields.needed_name("date", dates_);
    if (!number) return std::nullopt;
    DayPlan plan;
    plan.day = DayId(*number);
    if (!seen.insert(plan.day).second) {
      const Value date = fields.value("date");
      faults_.add(date.json->at(), date.path, found_as(*date.json), "a day not listed before");
    }
    const Day& day = production_.days[plan.day];
    const CalendarDay calendar(day.date, production_.zone);
    calendar_ = &calendar;
    if (fields.has("first_shot")) plan.first_shot = time(fields, "first_shot");
    if (fields.has("wrap")) plan.wrap = time(fields, "wrap");
    read_rows(
        fields, "scenes", plan.scenes, [this](const Value& value) { return read_scene(value); });
    read_rows(fields, "wears", plan.wears, [this](const Value& value) { return read_wear(value); });
    read_rows(fields, "steps", plan.steps, [this](const Value& value) { return read_step(value); });
    read_rows(
        fields, "ready", plan.ready, [this](const Value& value) { return read_ready(value); });
    KnownIds meals("meals", "a meal of the day");
    for (const Meal& meal : day.meals) meals.add(meal.name);
    read_rows(
        fields, "meals", plan.meals, [&](const Value& value) { return read_meal(value, meals); });
    read_rows(
        fields, "people", plan.people, [this](const Value& value) { return read_stay(value); });
    calendar_ = nullptr;
    return plan;
  }

  template <class Row, class Read>
  void read_rows(Fields& fields, const char* key, std::vector<Row>& rows, Read read_row) {
    for (const Value& value : fields.list(key)) {
      if (std::optional<Row> row = read_row(value)) rows.push_back(std::move(*row));
    }
  }

  std::optional<PlannedScene> read_scene(const Value& row) {
    Fields fields(row, {"scene", "unit", "set_at", "shoot_at", "until", "cast", "crew"}, faults_);
    const auto number = fields.needed_name("scene", scenes_);
    const auto unit = fields.name("unit", units_);
    PlannedScene scene;
    scene.set_at = time(fields, "set_at");
    scene.shoot_at = time(fields, "shoot_at");
    scene.until = time(fields, "until");
    for (const Value& value : fields.list("cast")) {
      Fields entry(value, {"role", "people"}, faults_);
      const auto role = entry.needed_name("role", roles_);
      auto who = people(entry);
      if (role) scene.cast.push_back({RoleId(*role), std::move(who)});
    }
    for (const Value& value : fields.list("crew")) {
      Fields entry(value, {"job", "people"}, faults_);
      std::string job = entry.needed_text("job");
      scene.crew.push_back({std::move(job), people(entry)});
    }
    if (!number) return std::nullopt;
    scene.scene = SceneId(*number);
    scene.unit = unit ? UnitId(*unit) : production_.scenes[scene.scene].unit;
    return scene;
  }

  std::optional<Wear> read_wear(const Value& row) {
    Fields fields(row, {"person", "look", "from", "until", "items"}, faults_);
    const auto person = fields.needed_name("person", people_);
    const auto look = fields.needed_name("look", looks_);
    const Span worn = span(fields);
    std::vector<ItemId> items;
    for (const std::size_t item : fields.names("items", items_)) items.emplace_back(item);
    if (!person || !look) return std::nullopt;
    return Wear{PersonId(*person), LookId(*look), worn.from, worn.until, std::move(items)};
  }

  std::optional<PlannedStep> read_step(const Value& row) {
    Fields fields(row,
                  {"person", "look", "part", "step", "station", "place", "by", "from", "until"},
                  faults_);
    const auto person = fields.needed_name("person", people_);
    const auto look = fields.needed_name("look", looks_);
    const auto part = fields.needed_name("part", parts_);
    const auto step = fields.needed_whole("step", 0, kMostMinutes);
    const auto station = fields.needed_name("station", stations_);
    const auto place = fields.needed_whole("place", 0, kMostMinutes);
    const auto by = fields.name("by", people_);
    const Span time = span(fields);
    if (!person || !look || !part || !step || !station || !place) return std::nullopt;
    return PlannedStep{PersonId(*person),
                       LookId(*look),
                       *part == 0 ? ChainPart::on : ChainPart::off,
                       static_cast<int>(*step),
                       StationId(*station),
                       static_cast<int>(*place),
                       by ? PersonId(*by) : PersonId(),
                       time.from,
                       time.until};
  }

  std::optional<Ready> read_ready(const Value& row) {
    Fields fields(row, {"person", "station", "from", "until"}, faults_);
    const auto person = fields.needed_name("person", people_);
    const auto station = fields.needed_name("station", stations_);
    const Span time = span(fields);
    if (!person || !station) return std::nullopt;
    return Ready{PersonId(*person), StationId(*station), time.from, time.until};
  }

  std::optional<PlannedMeal> read_meal(const Value& row, const KnownIds& meals) {
    Fields fields(row, {"meal", "from", "until", "people"}, faults_);
    const auto meal = fields.needed_name("meal", meals);
    const Span time = span(fields);
    auto who = people(fields);
    if (!meal) return std::nullopt;
    return PlannedMeal{meals.names()[*meal], time.from, time.until, std::move(who)};
  }

  std::optional<Stay> read_stay(const Value& row) {
    Fields fields(row, {"person", "call", "released", "on_site", "busy", "waiting"}, faults_);
    const auto person = fields.needed_name("person", people_);
    Stay stay;
    stay.call = time(fields, "call");
    stay.released = time(fields, "released");
    stay.on_site = minutes(fields, "on_site");
    stay.busy = minutes(fields, "busy");
    stay.waiting = minutes(fields, "waiting");
    if (!person) return std::nullopt;
    stay.person = PersonId(*person);
    return stay;
  }

  std::optional<Unfilled> read_unfilled(const Value& row) {
    Fields fields(row, {"scene", "role", "job", "missing", "why"}, faults_);
    const auto scene = fields.needed_name("scene", scenes_);
    const auto role = fields.name("role", roles_);
    Unfilled entry;
    entry.job = fields.text("job");
    if (row.json->is(JsonKind::object) && fields.has("role") == fields.has("job")) {
      faults_.add(row.json->at(),
                  row.path,
                  fields.has("role") ? "a role and a job" : "neither role nor job",
                  "a role, or the job of a crew");
    }
    const auto missing = fields.needed_whole("missing", 0, kMostHeads);
    entry.why = fields.text("why");
    if (!scene || !missing) return std::nullopt;
    entry.scene = SceneId(*scene);
    if (role) entry.role = RoleId(*role);
    entry.missing = static_cast<int>(*missing);
    return entry;
  }

  /// What the file does not say is counted, as far as it can be.
  void read_totals(const Value& value, Plan& plan) {
    Fields fields(
        value, {"on_site", "weighted_on_site", "waiting", "bound", "proven", "seconds"}, faults_);
    const auto on_site = fields.whole("on_site", -kMostTotal, kMostTotal);
    const auto weighted = fields.thousandths("weighted_on_site", true);
    const auto waiting = fields.whole("waiting", -kMostTotal, kMostTotal);
    const Value bound = fields.value("bound");
    if (bound.json != nullptr && !bound.json->is(JsonKind::null)) {
      plan.totals.bound = fields.thousandths("bound", false);
    }
    plan.totals.proven = fields.boolean("proven").value_or(false);
    plan.totals.seconds = fields.number("seconds").value_or(0.0);
    if (!faults_.empty()) return;  // half a plan has no price
    const Price counted = price(production_, plan);
    plan.totals.on_site = on_site.value_or(counted.on_site);
    plan.totals.weighted_on_site = weighted.value_or(counted.weighted_on_site);
    plan.totals.waiting = waiting.value_or(counted.waiting);
  }

  std::vector<PersonId> people(Fields& fields) {
    std::vector<PersonId> who;
    fields.needed("people", "a list of people");
    for (const std::size_t person : fields.names("people", people_)) who.emplace_back(person);
    return who;
  }

  Minute time(Fields& fields, const char* key) {
    const Value value = fields.needed(key, "a time, \"HH:MM\"");
    if (value.json == nullptr) return {};
    if (value.json->is(JsonKind::text)) {
      if (const auto wall = parse_wall_time(value.json->text())) return calendar_->elapsed(*wall);
    }
    faults_.add(value.json->at(),
                value.path,
                found_as(*value.json),
                "a time, \"HH:MM\" from 00:00 to 99:59");
    return {};
  }

  Span span(Fields& fields) {
    const Minute from = time(fields, "from");
    return {from, time(fields, "until")};
  }

  Minutes minutes(Fields& fields, const char* key) {
    const auto number = fields.needed_whole(key, -kMostMinutes, kMostMinutes);
    return Minutes{static_cast<std::int32_t>(number.value_or(0))};
  }

  const Production& production_;
  FaultList& faults_;
  KnownIds dates_, scenes_, units_, roles_, people_, looks_, stations_, items_, parts_, levels_;
  const CalendarDay* calendar_ = nullptr;  ///< of the day being read
};

}  // namespace

std::variant<Plan, std::vector<Fault>> read_plan(const std::string& text,
                                                 const Production& production) {
  JsonRead json = read_json(text);
  FaultList faults;
  faults.add(std::move(json.faults));
  Plan plan;
  if (json.root) plan = PlanReader(production, faults).read(*json.root);
  if (faults.empty()) return plan;
  return faults.take();
}

}  // namespace gp
