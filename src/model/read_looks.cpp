#include "model/limits.h"
#include "model/reading.h"
#include "model/sizes.h"
#include "model/texts.h"

#include <algorithm>
#include <utility>

// Looks, stations and items of a production file.

namespace gp {
namespace {

Step read_step(Reading& reading, const Json& json, const std::string& path) {
  Fields fields(reading.faults, json, path, "a step");
  Step step;
  fields.required_ref("at", reading.stations, step.at);
  fields.length("minutes", step.minutes);
  fields.text("by", step.by, TextKind::tag);
  fields.length("then_wait", step.then_wait);
  fields.finish();
  return step;
}

Look read_look(Reading& reading, const Json& json, Origin& origin) {
  Fields fields(reading.faults, json, origin.path, "a look");
  Look look;
  fields.id(look.id);
  if (look.id == "any") {
    fields.tell(*json.find("id"),
                fields.key_path("id"),
                "\"any\"",
                "another id (a role whose look is \"any\" may wear whatever it has on)");
  }
  fields.text("name", look.name, TextKind::name);
  fields.tags("tags", look.tags);
  fields.each("steps", [&](const Json& step, const std::string& path) {
    look.steps.push_back(read_step(reading, step, path));
  });
  fields.each("off", [&](const Json& step, const std::string& path) {
    look.off.push_back(read_step(reading, step, path));
  });
  fields.length("holds_for", look.holds_for, 1);
  // the same item may stand here twice: two daggers
  fields.refs("items", reading.items, look.items, false);
  fields.text("wear", look.wear, TextKind::note);
  fields.text("bring", look.bring, TextKind::note);
  origin.clean = fields.finish();
  return look;
}

Station read_station(Reading& reading, const Json& json, Origin& origin) {
  Fields fields(reading.faults, json, origin.path, "a station");
  Station station;
  fields.id(station.id);
  fields.text("name", station.name, TextKind::name);
  fields.ref("place", reading.places, station.place);
  fields.whole("places", station.places, 1, limits::kHeads);
  fields.span("open", station.open);
  std::vector<PersonId> staff;
  fields.refs("staff", reading.people, staff, true);
  if (fields.has("staff")) station.staff = std::move(staff);
  fields.length("set_minutes", station.set_minutes);
  origin.clean = fields.finish();
  return station;
}

void read_fits(Reading& reading, Fields& fields, Item& item) {
  fields.each_member("fits", [&](const JsonMember& member, const std::string& path) {
    if (!is_size_name(reading, member, path)) return;
    const Json& json = member.value;
    std::optional<SizeRange> range;
    if (json.is(JsonKind::text)) {
      range = parse_size_range(json.text());
    } else if (json.is(JsonKind::number)) {
      range = SizeRange{json.number(), json.number()};
    }
    if (!range || range->least < 0 || std::max(range->least, range->most) > limits::kSize) {
      fields.tell(
          json,
          path,
          found_as(json),
          "a size such as 57, or the smallest and the largest such as \"56-58\", from 0 to " +
              std::to_string(limits::kSize));
    } else if (range->most < range->least) {
      fields.tell(json,
                  path,
                  quoted(json.text()) + ", from the larger to the smaller",
                  "the smallest first",
                  format(SizeRange{range->most, range->least}));
    } else {
      item.fits.emplace(member.key, *range);
    }
  });
}

Item read_item(Reading& reading, const Json& json, Origin& origin) {
  Fields fields(reading.faults, json, origin.path, "an item");
  Item item;
  fields.id(item.id);
  fields.text("name", item.name, TextKind::name);
  fields.whole("count", item.count, 1, limits::kThings);
  read_fits(reading, fields, item);
  fields.each("instead", [&](const Json& entry, const std::string& path) {
    const auto other = fields.ref_of(entry, path, reading.items);
    if (!other) return;
    const ItemId id(*other);
    if (entry.text() == item.id) {
      fields.tell(entry, path, quoted(item.id) + " instead of itself", "another item");
    } else if (std::find(item.instead.begin(), item.instead.end(), id) != item.instead.end()) {
      fields.tell(entry, path, quoted(entry.text()) + " a second time", "each only once");
    }
    item.instead.push_back(id);
  });
  fields.ref("lent_by", reading.people, item.lent_by);
  origin.clean = fields.finish();
  return item;
}

}  // namespace

void read_looks(Reading& reading, Fields& root) {
  root.each("looks", [&](const Json& json, const std::string& path) {
    Origin origin{&json, path, true};
    reading.production.looks.add(read_look(reading, json, origin));
    reading.origins.looks.add(std::move(origin));
  });
}

void read_stations(Reading& reading, Fields& root) {
  root.each("stations", [&](const Json& json, const std::string& path) {
    Origin origin{&json, path, true};
    reading.production.stations.add(read_station(reading, json, origin));
    reading.origins.stations.add(std::move(origin));
  });
}

void read_items(Reading& reading, Fields& root) {
  root.each("items", [&](const Json& json, const std::string& path) {
    Origin origin{&json, path, true};
    reading.production.items.add(read_item(reading, json, origin));
    reading.origins.items.add(std::move(origin));
  });
}

}  // namespace gp
