#include "model/limits.h"
#include "model/reading.h"
#include "model/texts.h"
#include "time/clock.h"

#include <utility>

// Places, people and roles of a production file.

namespace gp {
namespace {

void read_ways(Reading& reading, Fields& fields, Place& place) {
  fields.each_member("minutes_to", [&](const JsonMember& member, const std::string& path) {
    const auto other = reading.places.find(member.key);
    if (!other) {
      reading.faults.add(member.at,
                         path,
                         quoted(member.key),
                         "the id of a place in \"places\"",
                         reading.faults.nearest_of(member.key, reading.places.names()));
    } else if (member.key == place.id) {
      reading.faults.add(member.at, path, "the way from a place to itself", "another place");
    }
    int minutes = 0;
    if (fields.whole_of(member.value, path, minutes, 0, limits::kMinutes) && other) {
      place.minutes_to.emplace(*other, Minutes{minutes});
    }
  });
}

Place read_place(Reading& reading, const Json& json, Origin& origin) {
  Fields fields(reading.faults, json, origin.path, "a place");
  Place place;
  fields.id(place.id);
  fields.text("name", place.name, TextKind::name);
  fields.text("address", place.address, TextKind::note);
  std::optional<double> lat;
  std::optional<double> lon;
  fields.real("lat", lat, -90, 90);
  fields.real("lon", lon, -180, 180);
  if (fields.has("lat") != fields.has("lon")) {
    const bool has_lat = fields.has("lat");
    reading.faults.add(json.find(has_lat ? "lat" : "lon")->at(),
                       origin.path,
                       has_lat ? "\"lat\" without \"lon\"" : "\"lon\" without \"lat\"",
                       "both or neither");
  }
  if (lat && lon) place.geo = Geo{*lat, *lon};
  fields.truth("outdoors", place.outdoors);
  read_ways(reading, fields, place);
  origin.clean = fields.finish();
  return place;
}

/// "2027-04-17" or "2027-04-17 09:00-13:00".
void read_free(Fields& fields, const Json& json, const std::string& path, Person& person) {
  const auto tell = [&](const std::string& nearest) {
    fields.tell(json,
                path,
                found_as(json),
                "a date, or a date and a span: \"2027-04-17\" or \"2027-04-17 09:00-13:00\"",
                nearest);
  };
  if (!json.is(JsonKind::text)) return tell({});
  const std::string& text = json.text();
  const std::size_t blank = text.find(' ');
  const std::string date_text = text.substr(0, blank);
  const auto date = parse_date(date_text);
  const bool in_range = date && static_cast<int>(date->year()) >= limits::kFirstYear &&
                        static_cast<int>(date->year()) <= limits::kLastYear;
  std::optional<WallSpan> hours;
  bool good = in_range;
  std::string meant = date ? date_text : date_like(date_text);
  if (blank != std::string::npos) {
    const std::string span_text = text.substr(blank + 1);
    hours = parse_wall_span(span_text);
    good = good && hours.has_value();
    const std::string span_meant = hours ? span_text : span_like(span_text);
    meant = meant.empty() || span_meant.empty() ? std::string() : meant + " " + span_meant;
  }
  if (!good) return tell(meant == text ? std::string() : meant);
  if (hours && hours->until <= hours->from) {
    const std::string next = next_day(*hours);
    fields.tell(json,
                path,
                quoted(text) + ", which does not end after it begins",
                kSpanPastMidnight,
                next.empty() ? next : date_text + " " + next);
    return;
  }
  const FreeTime free{*date, hours};
  for (const FreeTime& other : *person.free) {
    if (other == free) {
      fields.tell(json, path, quoted(text) + " a second time", "each only once");
      return;
    }
  }
  person.free->push_back(free);
}

void read_sizes(Reading& reading, Fields& fields, Person& person) {
  fields.each_member("sizes", [&](const JsonMember& member, const std::string& path) {
    if (!is_size_name(reading, member, path)) return;
    const Json& json = member.value;
    if (json.is(JsonKind::number) && json.number() >= 0 && json.number() <= limits::kSize) {
      person.sizes.emplace(member.key, json.number());
    } else {
      fields.tell(
          json, path, found_as(json), "a number from 0 to " + std::to_string(limits::kSize));
    }
  });
}

Person read_person(Reading& reading, const Json& json, Origin& origin) {
  Fields fields(reading.faults, json, origin.path, "a person");
  Person person;
  fields.id(person.id);
  fields.text("name", person.name, TextKind::name);
  fields.text("phone", person.phone, TextKind::name);
  fields.text("email", person.email, TextKind::name);
  fields.language("language", person.language);
  if (fields.has("free")) person.free.emplace();
  fields.each("free", [&](const Json& entry, const std::string& path) {
    read_free(fields, entry, path, person);
  });
  fields.tags("can", person.can);
  fields.tags("no", person.no);
  fields.tags("likes", person.likes);
  fields.thousandths("weight", person.weight, limits::kWeight);
  fields.date("born", person.born, limits::kFirstBirthYear);
  fields.ref("guardian", reading.people, person.guardian);
  read_sizes(reading, fields, person);
  fields.text("food", person.food, TextKind::note);
  fields.text("skin", person.skin, TextKind::note);
  fields.choice("answer",
                person.answer,
                {{"asked", Answer::asked},
                 {"yes", Answer::yes},
                 {"maybe", Answer::maybe},
                 {"no", Answer::no}});
  fields.real("turnout", person.turnout, 0, 1);
  origin.clean = fields.finish();
  return person;
}

void read_roles_look(Reading& reading, Fields& fields, Role& role) {
  const Json* const json = fields.take("look");
  if (json == nullptr) return;
  if (json->is(JsonKind::text) && json->text() == "any") {
    role.look_kind = LookKind::any;
    return;
  }
  fields.ref("look", reading.looks, role.look);
  role.look_kind = role.look.valid() ? LookKind::look : LookKind::themselves;
}

Role read_role(Reading& reading, const Json& json, Origin& origin) {
  Fields fields(reading.faults, json, origin.path, "a role");
  Role role;
  fields.id(role.id);
  fields.text("name", role.name, TextKind::name);
  fields.truth("crowd", role.crowd);
  fields.ref("person", reading.people, role.person);
  if (const Json* person = fields.take("person"); person != nullptr && role.crowd) {
    fields.tell(*person,
                fields.key_path("person"),
                "a person fixed to a crowd",
                "no \"person\" (whom a crowd may be taken from stands in \"from\")",
                "from");
  }
  read_roles_look(reading, fields, role);
  std::vector<PersonId> from;
  fields.refs("from", reading.people, from, true);
  fields.not_empty("from", "at least one person (without \"from\": anybody)");
  if (fields.has("from")) role.from = std::move(from);
  fields.tags("needs", role.needs);
  fields.tags("tags", role.tags);
  origin.clean = fields.finish();
  return role;
}

}  // namespace

bool is_size_name(Reading& reading, const JsonMember& member, const std::string& path) {
  if (is_id(member.key)) return true;
  reading.faults.add(member.at,
                     path,
                     quoted(member.key),
                     "a name such as \"head_cm\": letters, digits, \"-\" and \"_\"",
                     id_like(member.key));
  return false;
}

void read_places(Reading& reading, Fields& root) {
  root.each("places", [&](const Json& json, const std::string& path) {
    Origin origin{&json, path, true};
    reading.production.places.add(read_place(reading, json, origin));
    reading.origins.places.add(std::move(origin));
  });
}

void read_people(Reading& reading, Fields& root) {
  root.each("people", [&](const Json& json, const std::string& path) {
    Origin origin{&json, path, true};
    reading.production.people.add(read_person(reading, json, origin));
    reading.origins.people.add(std::move(origin));
  });
}

void read_roles(Reading& reading, Fields& root) {
  root.each("roles", [&](const Json& json, const std::string& path) {
    Origin origin{&json, path, true};
    reading.production.roles.add(read_role(reading, json, origin));
    reading.origins.roles.add(std::move(origin));
  });
}

}  // namespace gp
