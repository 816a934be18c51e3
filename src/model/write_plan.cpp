#include "base/errors.h"
#include "base/json_writer.h"
#include "model/plan_json.h"
#include "time/clock.h"
#include "time/day_clock.h"

namespace gp {
namespace {

class PlanWriter {
 public:
  explicit PlanWriter(const Production& production) : production_(production) {}

  std::string write(const Plan& plan) {
    writer_.begin_object();
    writer_.key("greasepaint_plan").number(std::int64_t{1});
    writer_.key("title").text(plan.title);
    if (!plan.made_from.empty()) writer_.key("made_from").text(plan.made_from);
    writer_.key("days").begin_list();
    for (const DayPlan& day : plan.days) write_day(day);
    writer_.end_list();
    writer_.key("unfilled").begin_list();
    for (const Unfilled& entry : plan.unfilled) write_unfilled(entry);
    writer_.end_list();
    writer_.key("not_filmed").begin_list();
    for (const NotFilmed& entry : plan.not_filmed) {
      writer_.begin_object(JsonLayout::compact);
      writer_.key("scene").text(production_.scenes[entry.scene].id);
      writer_.key("why").text(entry.why);
      writer_.end_object();
    }
    writer_.end_list();
    writer_.key("notes").begin_list();
    for (const Note& note : plan.notes) {
      writer_.begin_object(JsonLayout::compact);
      writer_.key("level").text(note.level);
      writer_.key("about").text(note.about);
      writer_.key("text").text(note.text);
      writer_.end_object();
    }
    writer_.end_list();
    write_totals(plan.totals);
    writer_.end_object();
    return writer_.finish();
  }

 private:
  void write_day(const DayPlan& plan) {
    const Day& day = production_.days[plan.day];
    const CalendarDay calendar(day.date, production_.zone);
    calendar_ = &calendar;
    writer_.begin_object();
    writer_.key("date").text(format(day.date));
    if (plan.first_shot) time("first_shot", *plan.first_shot);
    if (plan.wrap) time("wrap", *plan.wrap);
    list("scenes", plan.scenes, [this](const PlannedScene& scene) { write_scene(scene); });
    list("wears", plan.wears, [this](const Wear& wear) { write_wear(wear); });
    list("steps", plan.steps, [this](const PlannedStep& step) { write_step(step); });
    list("ready", plan.ready, [this](const Ready& ready) {
      writer_.key("person").text(production_.people[ready.person].id);
      writer_.key("station").text(production_.stations[ready.station].id);
      time("from", ready.from);
      time("until", ready.until);
    });
    list("meals", plan.meals, [this](const PlannedMeal& meal) {
      writer_.key("meal").text(meal.meal);
      time("from", meal.from);
      time("until", meal.until);
      people(meal.people);
    });
    list("people", plan.people, [this](const Stay& stay) {
      writer_.key("person").text(production_.people[stay.person].id);
      time("call", stay.call);
      time("released", stay.released);
      writer_.key("on_site").number(std::int64_t{stay.on_site.count()});
      writer_.key("busy").number(std::int64_t{stay.busy.count()});
      writer_.key("waiting").number(std::int64_t{stay.waiting.count()});
    });
    writer_.end_object();
    calendar_ = nullptr;
  }

  /// A list with a row a line.
  template <class Row, class Write>
  void list(const char* key, const std::vector<Row>& rows, Write write_row) {
    writer_.key(key).begin_list();
    for (const Row& row : rows) {
      writer_.begin_object(JsonLayout::compact);
      write_row(row);
      writer_.end_object();
    }
    writer_.end_list();
  }

  void write_scene(const PlannedScene& scene) {
    writer_.key("scene").text(production_.scenes[scene.scene].id);
    writer_.key("unit").text(production_.units[scene.unit].id);
    time("set_at", scene.set_at);
    time("shoot_at", scene.shoot_at);
    time("until", scene.until);
    if (!scene.cast.empty()) {
      list("cast", scene.cast, [this](const CastEntry& entry) {
        writer_.key("role").text(production_.roles[entry.role].id);
        people(entry.people);
      });
    }
    if (!scene.crew.empty()) {
      list("crew", scene.crew, [this](const CrewEntry& entry) {
        writer_.key("job").text(entry.job);
        people(entry.people);
      });
    }
  }

  void write_wear(const Wear& wear) {
    writer_.key("person").text(production_.people[wear.person].id);
    writer_.key("look").text(production_.looks[wear.look].id);
    time("from", wear.from);
    time("until", wear.until);
    if (wear.items.empty()) return;
    std::vector<std::string> items;
    for (const ItemId item : wear.items) items.push_back(production_.items[item].id);
    writer_.key("items").texts(items);
  }

  void write_step(const PlannedStep& step) {
    writer_.key("person").text(production_.people[step.person].id);
    writer_.key("look").text(production_.looks[step.look].id);
    writer_.key("part").text(step.part == ChainPart::on ? "on" : "off");
    writer_.key("step").number(std::int64_t{step.step});
    writer_.key("station").text(production_.stations[step.station].id);
    writer_.key("place").number(std::int64_t{step.place});
    if (step.by.valid()) writer_.key("by").text(production_.people[step.by].id);
    time("from", step.from);
    time("until", step.until);
  }

  void write_unfilled(const Unfilled& entry) {
    writer_.begin_object(JsonLayout::compact);
    writer_.key("scene").text(production_.scenes[entry.scene].id);
    if (entry.role.valid()) {
      writer_.key("role").text(production_.roles[entry.role].id);
    } else {
      writer_.key("job").text(entry.job);
    }
    writer_.key("missing").number(std::int64_t{entry.missing});
    writer_.key("why").text(entry.why);
    writer_.end_object();
  }

  void write_totals(const Totals& totals) {
    writer_.key("totals").begin_object(JsonLayout::compact);
    writer_.key("on_site").number(totals.on_site);
    writer_.key("weighted_on_site").thousandths(totals.weighted_on_site);
    writer_.key("waiting").number(totals.waiting);
    writer_.key("bound");
    if (totals.bound) {
      writer_.thousandths(*totals.bound);
    } else {
      writer_.null();
    }
    writer_.key("proven").boolean(totals.proven);
    writer_.key("seconds").number(totals.seconds);
    writer_.end_object();
  }

  void time(const char* key, Minute moment) {
    const auto reading = calendar_->wall(moment);
    if (!reading || *reading < WallTime{0} || *reading > kLatestWallTime) {
      throw InternalError("a plan to be written has a moment that no clock shows: " +
                          std::to_string(count(moment)) + " minutes after midnight");
    }
    writer_.key(key).text(format(*reading));
  }

  void people(const std::vector<PersonId>& who) {
    std::vector<std::string> ids;
    ids.reserve(who.size());
    for (const PersonId person : who) ids.push_back(production_.people[person].id);
    writer_.key("people").texts(ids);
  }

  const Production& production_;
  const CalendarDay* calendar_ = nullptr;  ///< of the day being written
  JsonWriter writer_;
};

}  // namespace

std::string write_plan(const Production& production, const Plan& plan) {
  return PlanWriter(production).write(plan);
}

}  // namespace gp
