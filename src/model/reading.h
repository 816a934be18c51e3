#pragma once

#include "base/ids.h"
#include "base/json.h"
#include "model/fault_list.h"
#include "model/fields.h"
#include "model/known_ids.h"
#include "model/production.h"
#include "model/read_production.h"

#include <cstddef>
#include <map>
#include <set>
#include <string>

// What the parts of read_production share. One function a list of the file; then validate().

namespace gp {

/// Where an entry stands in the file.
struct Origin {
  const Json* json = nullptr;
  std::string path;  ///< `scenes[3]`
  bool clean =
      true;  ///< no fault in it; of others sense is not asked, so that one slip is told once
};

struct Origins {
  Table<DayId, Origin> days;
  Table<PlaceId, Origin> places;
  Table<PersonId, Origin> people;
  Table<RoleId, Origin> roles;
  Table<LookId, Origin> looks;
  Table<StationId, Origin> stations;
  Table<ItemId, Origin> items;
  Table<SceneId, Origin> scenes;
};

struct Reading {
  FaultList faults;
  Production production;
  Origins origins;
  bool zone_known = true;
  std::map<Date, DayId> day_of;
  KnownIds places{"places", "a place"};
  KnownIds people{"people", "a person"};
  KnownIds roles{"roles", "a role"};
  KnownIds looks{"looks", "a look"};
  KnownIds stations{"stations", "a station"};
  KnownIds items{"items", "an item"};
  KnownIds units{"units", "a unit"};
  KnownIds scenes{"scenes", "a scene"};
  std::set<std::string> jobs;  ///< of all crews
  bool crew_unread = false;    ///< a scene or unit has a fault: there may be other jobs
};

/// Whether that key can name a size; else tells.
bool is_size_name(Reading& reading, const JsonMember& member, const std::string& path);

void read_settings(Reading& reading, Fields& root);
void read_days(Reading& reading, Fields& root);
void read_places(Reading& reading, Fields& root);
void read_people(Reading& reading, Fields& root);
void read_roles(Reading& reading, Fields& root);
void read_looks(Reading& reading, Fields& root);
void read_stations(Reading& reading, Fields& root);
void read_items(Reading& reading, Fields& root);
void read_units(Reading& reading, Fields& root);
void read_scenes(Reading& reading, Fields& root);

/// Faults of sense, that need more than one entry to be seen. Asks nothing of entries that have a
/// fault of their own.
void validate(Reading& reading, PeopleListed people);
void validate_dates(Reading& reading);   ///< the zone's dates, and windows on nights of change
void validate_people(Reading& reading);  ///< guardians
void validate_likes(Reading& reading);   ///< likes that name nothing
void validate_chains(Reading& reading);  ///< steps nobody can do
void validate_parts(Reading& reading);   ///< parts nobody may play
void validate_scenes(Reading& reading);  ///< order, light, who will not

}  // namespace gp
