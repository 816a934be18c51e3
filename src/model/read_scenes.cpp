#include "model/limits.h"
#include "model/reading.h"
#include "time/clock.h"

#include <utility>

// Units and scenes of a production file.

namespace gp {
namespace {

CrewCall read_crew(Reading& reading, const Json& json, const std::string& path) {
  Fields fields(reading.faults, json, path, "a crew entry");
  CrewCall call;
  fields.required_text("job", call.job, TextKind::tag);
  fields.whole("people", call.people, 1, limits::kHeads);
  fields.tags("needs", call.needs);
  fields.refs("from", reading.people, call.from, true);
  fields.not_empty("from", "at least one person (without \"from\": anybody)");
  fields.finish();
  reading.jobs.insert(call.job);
  return call;
}

void read_cast(Reading& reading, const Json& json, const std::string& path, Scene& scene) {
  Fields fields(reading.faults, json, path, "a cast entry");
  CastCall call;
  fields.required_ref("role", reading.roles, call.role);
  fields.whole("people", call.people, 1, limits::kHeads);
  if (fields.finish()) {
    for (const CastCall& other : scene.cast) {
      if (other.role != call.role) continue;
      fields.tell(*json.find("role"),
                  path + ".role",
                  "the role " + quoted(json.find("role")->text()) + " a second time",
                  "each role once in a scene (how many of a crowd stands in \"people\")");
      break;
    }
    if (call.people != 1 && !reading.production.roles[call.role].crowd) {
      fields.tell(*json.find("people"),
                  path + ".people",
                  std::to_string(call.people) + " people for a part",
                  "1 (a part is one person; a role for many has \"crowd\": true)");
    }
  }
  scene.cast.push_back(call);
}

void read_prop(Reading& reading, const Json& json, const std::string& path, Scene& scene) {
  Fields fields(reading.faults, json, path, "a prop");
  Prop prop;
  fields.required_ref("item", reading.items, prop.item);
  fields.whole("count", prop.count, 1, limits::kThings);
  if (fields.finish()) {
    for (const Prop& other : scene.props) {
      if (other.item != prop.item) continue;
      fields.tell(*json.find("item"),
                  path + ".item",
                  "the item " + quoted(json.find("item")->text()) + " a second time",
                  "each item once in a scene (how many of it stands in \"count\")");
      break;
    }
  }
  scene.props.push_back(prop);
}

void read_scenes_day(Reading& reading, Fields& fields, Scene& scene) {
  const Json* const json = fields.take("day");
  std::optional<Date> date;
  fields.date("day", date, limits::kFirstYear);
  if (json == nullptr || !date) return;
  if (const auto found = reading.day_of.find(*date); found != reading.day_of.end()) {
    scene.day = found->second;
    return;
  }
  std::vector<std::string> dates;
  for (const auto& [known, id] : reading.day_of) dates.push_back(format(known));
  fields.tell(*json,
              fields.key_path("day"),
              found_as(*json),
              "the date of one of the \"days\"",
              reading.faults.nearest_of(json->text(), dates));
}

Scene read_scene(Reading& reading, const Json& json, Origin& origin) {
  Fields fields(reading.faults, json, origin.path, "a scene");
  Scene scene;
  fields.id(scene.id);
  fields.text("name", scene.name, TextKind::name);
  fields.ref("place", reading.places, scene.place);
  scene.unit = UnitId(0);
  fields.ref("unit", reading.units, scene.unit);
  fields.text("set", scene.set, TextKind::tag);
  fields.length("set_minutes", scene.set_minutes);
  fields.length("reset_minutes", scene.reset_minutes);
  fields.length("shoot_minutes", scene.shoot_minutes);
  fields.each("cast", [&](const Json& entry, const std::string& path) {
    read_cast(reading, entry, path, scene);
  });
  fields.each("crew", [&](const Json& entry, const std::string& path) {
    scene.crew.push_back(read_crew(reading, entry, path));
  });
  fields.each("props", [&](const Json& entry, const std::string& path) {
    read_prop(reading, entry, path, scene);
  });
  fields.choice("light",
                scene.light,
                {{"any", Light::any},
                 {"day", Light::day},
                 {"golden", Light::golden},
                 {"dusk", Light::dusk},
                 {"dark", Light::dark}});
  fields.span("between", scene.between);
  fields.time("at", scene.at);
  fields.refs("after", reading.scenes, scene.after, true);
  read_scenes_day(reading, fields, scene);
  fields.thousandths("worth", scene.worth, limits::kWeight);
  fields.truth("optional", scene.optional);
  fields.tags("hazards", scene.hazards);
  fields.text("notes", scene.notes, TextKind::note);
  origin.clean = fields.finish();
  if (!origin.clean) reading.crew_unread = true;
  return scene;
}

}  // namespace

void read_units(Reading& reading, Fields& root) {
  root.each("units", [&](const Json& json, const std::string& path) {
    Fields fields(reading.faults, json, path, "a unit");
    Unit unit;
    fields.id(unit.id);
    fields.text("name", unit.name, TextKind::name);
    fields.each("crew", [&](const Json& entry, const std::string& entry_path) {
      unit.crew.push_back(read_crew(reading, entry, entry_path));
    });
    if (!fields.finish()) reading.crew_unread = true;
    reading.production.units.add(std::move(unit));
  });
  if (!reading.production.units.empty()) return;
  Unit main;
  main.id = "main";
  reading.production.units.add(main);
  if (reading.units.names().empty()) reading.units.add("main");
}

void read_scenes(Reading& reading, Fields& root) {
  root.each("scenes", [&](const Json& json, const std::string& path) {
    Origin origin{&json, path, true};
    reading.production.scenes.add(read_scene(reading, json, origin));
    reading.origins.scenes.add(std::move(origin));
  });
}

}  // namespace gp
