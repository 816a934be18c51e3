#include "base/json_writer.h"
#include "model/read_production.h"
#include "model/sizes.h"
#include "time/clock.h"

#include <string>
#include <string_view>
#include <vector>

// Keys in the order of docs/production-format.md; defaults left out; an entry of a list a line.

namespace gp {
namespace {

const char* name_of(Light light) {
  switch (light) {
    case Light::any:
      return "any";
    case Light::day:
      return "day";
    case Light::golden:
      return "golden";
    case Light::dusk:
      return "dusk";
    case Light::dark:
      return "dark";
  }
  return "";
}

/// One key and its value each, left out where the value is the default.
class Writer {
 public:
  explicit Writer(const Production& production) : production_(production) {}

  std::string write() {
    out_.begin_object();
    settings();
    rows("days", production_.days, [this](const Day& day) { write_day(day); });
    rows("places", production_.places, [this](const Place& place) { write_place(place); });
    rows("people", production_.people, [this](const Person& person) { write_person(person); });
    rows("roles", production_.roles, [this](const Role& role) { write_role(role); });
    rows("looks", production_.looks, [this](const Look& look) { write_look(look); });
    rows("stations", production_.stations, [this](const Station& station) {
      write_station(station);
    });
    rows("items", production_.items, [this](const Item& item) { write_item(item); });
    if (!only_main_unit()) {
      rows("units", production_.units, [this](const Unit& unit) { write_unit(unit); });
    }
    rows("scenes", production_.scenes, [this](const Scene& scene) { write_scene(scene); });
    out_.end_object();
    return out_.finish();
  }

 private:
  void text(std::string_view key, const std::string& value, std::string_view otherwise = "") {
    if (value != otherwise) out_.key(key).text(value);
  }
  void whole(std::string_view key, int value, int otherwise) {
    if (value != otherwise) out_.key(key).number(std::int64_t{value});
  }
  void length(std::string_view key, Minutes value, Minutes otherwise = Minutes{0}) {
    if (value != otherwise) out_.key(key).number(std::int64_t{count(value)});
  }
  void length(std::string_view key, const std::optional<Minutes>& value) {
    if (value) out_.key(key).number(std::int64_t{count(*value)});
  }
  void thousandths(std::string_view key, Thousandths value) {
    if (value != 1000) out_.key(key).thousandths(value);
  }
  void time(std::string_view key, const std::optional<WallTime>& value) {
    if (value) out_.key(key).text(format(*value));
  }
  void span(std::string_view key, const std::optional<WallSpan>& value) {
    if (value) out_.key(key).text(format(*value));
  }
  void truth(std::string_view key, bool value, bool otherwise) {
    if (value != otherwise) out_.key(key).boolean(value);
  }
  void tags(std::string_view key, const Tags& value) {
    if (!value.empty()) out_.key(key).texts(value);
  }
  template <class Id, class Row>
  void ref(std::string_view key, Id id, const Table<Id, Row>& table) {
    if (id.valid()) out_.key(key).text(table[id].id);
  }
  template <class Id, class Row>
  void refs(std::string_view key, const std::vector<Id>& ids, const Table<Id, Row>& table) {
    out_.key(key).begin_list(JsonLayout::compact);
    for (const Id id : ids) out_.text(table[id].id);
    out_.end_list();
  }
  /// A list with one line an entry; nothing where there is none.
  template <class List, class Write>
  void rows(std::string_view key, const List& list, Write write) {
    if (list.empty()) return;
    out_.key(key).begin_list();
    for (const auto& row : list) {
      out_.begin_object(JsonLayout::compact);
      write(row);
      out_.end_object();
    }
    out_.end_list();
  }
  bool only_main_unit() const {
    Unit main;
    main.id = "main";
    return production_.units.size() == 1 && production_.units[UnitId(0)] == main;
  }

  void settings() {
    const Production standard;
    out_.key("greasepaint").number(std::int64_t{1});
    out_.key("title").text(production_.title);
    text("language", production_.language, standard.language);
    text("zone", production_.zone, standard.zone);
    if (production_.paper == Paper::letter) out_.key("paper").text("Letter");
    if (production_.contact != Contact{}) {
      out_.key("contact").begin_object(JsonLayout::compact);
      text("name", production_.contact.name);
      text("phone", production_.contact.phone);
      out_.end_object();
    }
    if (production_.aim == Aim::latest_first_call) out_.key("aim").text("latest-first-call");
    length("sign_in_minutes", production_.sign_in, standard.sign_in);
    length("round_to", production_.round_to, standard.round_to);
  }

  void write_day(const Day& day) {
    out_.key("date").text(format(day.date));
    ref("base", day.base, production_.places);
    if (day.nobody_before != WallTime{}) out_.key("nobody_before").text(format(day.nobody_before));
    time("first_shot", day.first_shot);
    time("wrap_by", day.wrap_by);
    rows("meals", day.meals, [this](const Meal& meal) {
      out_.key("name").text(meal.name);
      length("minutes", meal.minutes);
      span("between", meal.between);
      truth("together", meal.together, true);
      if (meal.seats) out_.key("seats").number(std::int64_t{*meal.seats});
    });
    text("first_aid", day.first_aid);
    text("hospital", day.hospital);
    text("notes", day.notes);
  }

  void write_place(const Place& place) {
    out_.key("id").text(place.id);
    text("name", place.name);
    text("address", place.address);
    if (place.geo) {
      out_.key("lat").number(place.geo->lat);
      out_.key("lon").number(place.geo->lon);
    }
    truth("outdoors", place.outdoors, false);
    if (place.minutes_to.empty()) return;
    out_.key("minutes_to").begin_object(JsonLayout::compact);
    for (const auto& [other, minutes] : place.minutes_to) {
      out_.key(production_.places[PlaceId(other)].id).number(std::int64_t{count(minutes)});
    }
    out_.end_object();
  }

  void write_person(const Person& person) {
    out_.key("id").text(person.id);
    text("name", person.name);
    text("phone", person.phone);
    text("email", person.email);
    text("language", person.language);
    if (person.free) {
      out_.key("free").begin_list(JsonLayout::compact);
      for (const FreeTime& free : *person.free) {
        out_.text(format(free.date) + (free.hours ? " " + format(*free.hours) : ""));
      }
      out_.end_list();
    }
    tags("can", person.can);
    tags("no", person.no);
    tags("likes", person.likes);
    thousandths("weight", person.weight);
    if (person.born) out_.key("born").text(format(*person.born));
    ref("guardian", person.guardian, production_.people);
    if (!person.sizes.empty()) {
      out_.key("sizes").begin_object(JsonLayout::compact);
      for (const auto& [name, size] : person.sizes) out_.key(name).number(size);
      out_.end_object();
    }
    text("food", person.food);
    text("skin", person.skin);
    text("answer", name_of(person.answer), "yes");
    if (person.turnout) out_.key("turnout").number(*person.turnout);
  }

  void write_role(const Role& role) {
    out_.key("id").text(role.id);
    text("name", role.name);
    truth("crowd", role.crowd, false);
    ref("person", role.person, production_.people);
    if (role.look_kind == LookKind::any) out_.key("look").text("any");
    if (role.look_kind == LookKind::look) ref("look", role.look, production_.looks);
    if (role.from) refs("from", *role.from, production_.people);
    tags("needs", role.needs);
    tags("tags", role.tags);
  }

  void write_steps(std::string_view key, const std::vector<Step>& steps) {
    rows(key, steps, [this](const Step& step) {
      ref("at", step.at, production_.stations);
      length("minutes", step.minutes);
      text("by", step.by);
      length("then_wait", step.then_wait);
    });
  }

  void write_look(const Look& look) {
    out_.key("id").text(look.id);
    text("name", look.name);
    tags("tags", look.tags);
    write_steps("steps", look.steps);
    write_steps("off", look.off);
    length("holds_for", look.holds_for);
    if (!look.items.empty()) refs("items", look.items, production_.items);
    text("wear", look.wear);
    text("bring", look.bring);
  }

  void write_station(const Station& station) {
    out_.key("id").text(station.id);
    text("name", station.name);
    ref("place", station.place, production_.places);
    whole("places", station.places, 1);
    span("open", station.open);
    if (station.staff) refs("staff", *station.staff, production_.people);
    length("set_minutes", station.set_minutes);
  }

  void write_item(const Item& item) {
    out_.key("id").text(item.id);
    text("name", item.name);
    whole("count", item.count, 1);
    if (!item.fits.empty()) {
      out_.key("fits").begin_object(JsonLayout::compact);
      for (const auto& [name, range] : item.fits) {
        out_.key(name);
        if (range.least == range.most) {
          out_.number(range.least);
        } else {
          out_.text(format(range));
        }
      }
      out_.end_object();
    }
    if (!item.instead.empty()) refs("instead", item.instead, production_.items);
    ref("lent_by", item.lent_by, production_.people);
  }

  void write_crew(const std::vector<CrewCall>& crew) {
    rows("crew", crew, [this](const CrewCall& call) {
      out_.key("job").text(call.job);
      whole("people", call.people, 1);
      tags("needs", call.needs);
      if (!call.from.empty()) refs("from", call.from, production_.people);
    });
  }

  void write_unit(const Unit& unit) {
    out_.key("id").text(unit.id);
    text("name", unit.name);
    write_crew(unit.crew);
  }

  void write_scene(const Scene& scene) {
    out_.key("id").text(scene.id);
    text("name", scene.name);
    ref("place", scene.place, production_.places);
    if (scene.unit != UnitId(0)) ref("unit", scene.unit, production_.units);
    text("set", scene.set);
    length("set_minutes", scene.set_minutes);
    length("reset_minutes", scene.reset_minutes);
    length("shoot_minutes", scene.shoot_minutes);
    rows("cast", scene.cast, [this](const CastCall& call) {
      ref("role", call.role, production_.roles);
      whole("people", call.people, 1);
    });
    write_crew(scene.crew);
    rows("props", scene.props, [this](const Prop& prop) {
      ref("item", prop.item, production_.items);
      whole("count", prop.count, 1);
    });
    text("light", name_of(scene.light), "any");
    span("between", scene.between);
    time("at", scene.at);
    if (!scene.after.empty()) refs("after", scene.after, production_.scenes);
    if (scene.day.valid()) out_.key("day").text(format(production_.days[scene.day].date));
    thousandths("worth", scene.worth);
    truth("optional", scene.optional, false);
    tags("hazards", scene.hazards);
    text("notes", scene.notes);
  }

  const Production& production_;
  JsonWriter out_;
};

}  // namespace

std::string write_production(const Production& production) {
  return Writer(production).write();
}

}  // namespace gp
