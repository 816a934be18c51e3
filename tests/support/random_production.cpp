#include "support/random_production.h"

#include "base/random.h"
#include "support/random_production_mend.h"

#include <algorithm>
#include <chrono>
#include <map>
#include <set>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

namespace gp::test {
namespace {

using Object = nlohmann::ordered_json;
using Names = std::vector<std::string>;

/// Somewhere on earth, and days there on which something happens to the clocks or to the sun.
struct Somewhere {
  const char* zone;
  double lat, lon;
  Names dates;  ///< beginnings of a shoot
};

// Changes of the clocks, from the zone database (2025b): London 2027-03-28 01:00 to 02:00 and
// 2027-10-31 02:00 to 01:00; New York 2027-03-14 02:00 to 03:00 and 2027-11-07 02:00 to 01:00; Lord
// Howe 2027-04-04 02:00 to 01:30, half an hour.
const std::vector<Somewhere>& somewheres() {
  static const std::vector<Somewhere> all = {
      {"Europe/London", 52.2, -1.1, {"2027-03-27", "2027-03-28", "2027-10-30", "2027-10-31"}},
      {"America/New_York", 40.7, -74.0, {"2027-03-13", "2027-03-14", "2027-11-06", "2027-11-07"}},
      {"Australia/Lord_Howe", -31.55, 159.08, {"2027-04-03", "2027-10-02"}},
      {"Asia/Kolkata", 19.1, 72.9, {"2027-02-28", "2027-12-30"}},
      {"Europe/Dublin", 54.4, -6.3, {"2027-04-17", "2027-06-21"}},
      {"", 51.5, 0.0, {"2028-02-28", "2027-09-04"}}};
  return all;
}

const Names kPeople = {"ada",  "bo",   "cleo", "dov",  "elif", "finn", "gwen", "hugo", "ines",
                       "jun",  "kofi", "lena", "milo", "noor", "omar", "pia",  "quin", "rosa",
                       "sami", "tove", "uma",  "vera", "wim",  "xia",  "yann", "zora"};
const Names kRoles = {
    "queen", "cook", "guard", "goblin", "ghost", "clerk", "mayor", "diver", "baker", "twin"};
const Names kLooks = {"goblin-look", "guard-look", "ghost-look", "royal", "mud"};
const Names kStations = {"rail", "chair", "sink", "bench"};
const Names kItems = {"helmet", "bucket", "hat", "lamp", "fog-machine"};
const Names kScenes = {"theft",
                       "supper",
                       "march",
                       "storm",
                       "chase",
                       "letter",
                       "bridge",
                       "feast",
                       "duel",
                       "dawn",
                       "exit",
                       "trial",
                       "song",
                       "well"};
const Names kSkills = {"paint", "light", "dance", "sew"};
const Names kRefusals = {"face-paint", "water", "fog", "height"};

std::string clock(int minutes) {
  const auto two = [](int number) { return (number < 10 ? "0" : "") + std::to_string(number); };
  return two(minutes / 60) + ":" + two(minutes % 60);
}
std::string clock_span(int from, int until) {
  return clock(from) + "-" + clock(until);
}

/// A later date of the same month or the next; the dates above need no leap beyond it.
std::string later(const std::string& date, int days) {
  using namespace std::chrono;
  const year_month_day day{year{std::stoi(date.substr(0, 4))},
                           month{static_cast<unsigned>(std::stoi(date.substr(5, 2)))},
                           std::chrono::day{static_cast<unsigned>(std::stoi(date.substr(8, 2)))}};
  const year_month_day then{sys_days{day} + std::chrono::days{days}};
  const auto two = [](unsigned number) {
    return (number < 10 ? "0" : "") + std::to_string(number);
  };
  return std::to_string(static_cast<int>(then.year())) + "-" +
         two(static_cast<unsigned>(then.month())) + "-" + two(static_cast<unsigned>(then.day()));
}

class Maker {
 public:
  Maker(std::uint64_t seed, const ProductionSize& size) : random_(seed), size_(size) {}

  std::string make() {
    Object out;
    out["greasepaint"] = 1;
    out["title"] = "A film about " + kItems[random_.index(kItems.size())];
    make_when(out);
    make_places(out);
    make_people(out);
    make_items(out);
    make_stations(out);
    make_looks(out);
    make_roles(out);
    make_units(out);
    make_scenes(out);
    mend_parts(out, random_);
    mend_refusals(out);
    return out.dump(1) + "\n";
  }

 private:
  bool chance(std::uint32_t hits, std::uint32_t of) { return random_.chance(hits, of); }
  int number(int least, int most) { return random_.between(least, std::max(least, most)); }
  /// A length of minutes on the size's grid.
  int minutes(int least, int most) {
    return number((least + size_.step - 1) / size_.step, most / size_.step) * size_.step;
  }
  const std::string& one_of(const Names& names) { return names[random_.index(names.size())]; }
  Names some_of(Names names, int least, int most) {
    random_.shuffle(names);
    const int count = number(least, std::min(most, static_cast<int>(names.size())));
    names.resize(static_cast<std::size_t>(std::min(count, static_cast<int>(names.size()))));
    return names;
  }
  Names first_of(const Names& names, int most) {
    return {names.begin(), names.begin() + std::min<std::ptrdiff_t>(most, std::ssize(names))};
  }

  void make_when(Object& out) {
    somewhere_ = &somewheres()[random_.index(somewheres().size())];
    if (*somewhere_->zone != '\0') out["zone"] = somewhere_->zone;
    if (chance(1, 8)) out["language"] = "en-GB";
    if (chance(1, 8)) out["paper"] = "Letter";
    if (chance(1, 3)) out["aim"] = chance(2, 3) ? "latest-first-call" : "least-time";
    if (chance(1, 3)) out["sign_in_minutes"] = minutes(0, 10);
    if (chance(1, 2)) out["round_to"] = std::vector<int>{1, 5, 10, 15}[random_.index(4)];
    located_ = !chance(1, 4);
    night_ = chance(1, 4);
    opens_ = night_ ? number(16, 22) * 60 : number(6, 9) * 60;
    const std::string date = one_of(somewhere_->dates);
    const int days = number(1, size_.days);
    Object& list = out["days"] = Object::array();
    for (int i = 0; i < days; ++i) {
      Object day;
      dates_.push_back(later(date, i));
      day["date"] = dates_.back();
      // light asks where on earth the base lies, unless the scene's own place says so
      if (located_ || !chance(1, 3)) day["base"] = "hall";
      if (!chance(1, 5)) day["nobody_before"] = clock(opens_ + minutes(0, 30));
      if (chance(1, 2)) day["first_shot"] = clock(opens_ + minutes(60, 150));
      if (chance(1, 2)) day["wrap_by"] = clock(opens_ + minutes(360, 720));
      make_meals(day);
      if (chance(1, 6)) day["notes"] = "Bring a cup.";
      list.push_back(day);
    }
  }

  void make_meals(Object& day) {
    if (chance(1, 2)) return;
    Object& meals = day["meals"] = Object::array();
    for (const char* name : {"lunch", "soup"}) {
      if (!chance(2, 3)) continue;
      Object meal;
      const int length = minutes(10, 40);
      const int from = opens_ + minutes(90, 300);
      meal["name"] = name;
      meal["minutes"] = length;
      // A span within the hour that a night skips would be none.
      meal["between"] = clock_span(from, from + length + minutes(night_ ? 65 : 0, 120));
      if (chance(1, 2)) {
        meal["together"] = chance(1, 3);
        if (!meal["together"] && chance(2, 3)) meal["seats"] = number(1, 6);
      }
      meals.push_back(meal);
    }
  }

  void make_places(Object& out) {
    Object& list = out["places"] = Object::array();
    places_ = first_of({"hall", "beach", "attic"}, number(1, 3));
    for (std::size_t i = 0; i < places_.size(); ++i) {
      Object place;
      place["id"] = places_[i];
      if (located_ && (i == 0 || chance(1, 2))) {
        place["lat"] = somewhere_->lat;
        place["lon"] = somewhere_->lon;
      }
      if (chance(1, 3)) place["outdoors"] = true;
      for (std::size_t j = 0; j < i; ++j) {
        if (chance(3, 4)) place["minutes_to"][places_[j]] = minutes(1, 12);
      }
      list.push_back(place);
    }
    // The way back may be written too, and differ: then the one written at the start counts.
    if (places_.size() > 1 && chance(1, 6)) list[0]["minutes_to"][places_[1]] = minutes(1, 12);
  }

  void make_people(Object& out) {
    Object& list = out["people"] = Object::array();
    people_ = first_of(kPeople, number(2, size_.people));
    for (std::size_t i = 0; i < people_.size(); ++i) {
      Object person;
      person["id"] = people_[i];
      if (chance(1, 3)) person["name"] = "Name of " + people_[i];
      make_free(person);
      Names can = some_of(kSkills, 0, 3);
      // Two can paint and come, so that every chain can be done.
      if (i < 2 && std::find(can.begin(), can.end(), "paint") == can.end()) {
        can.emplace_back("paint");
      }
      if (!can.empty()) person["can"] = can;
      if (chance(1, 5)) person["no"] = some_of(kRefusals, 1, 2);
      if (chance(1, 4)) person["weight"] = std::vector<double>{0.5, 2, 1.25, 3}[random_.index(4)];
      if (i > 1 && chance(1, 8)) {
        person["answer"] = Names{"maybe", "asked", "no", "yes"}[random_.index(4)];
        coming_[people_[i]] = person["answer"] == "yes";
      }
      if (i > 1 && chance(1, 10)) {
        person["born"] = "2016-05-04";
        person["guardian"] = people_[0];
      }
      list.push_back(person);
    }
  }

  void make_free(Object& person) {
    if (!chance(1, 3)) return;
    Names free;
    for (const std::string& date : dates_) {
      if (chance(1, 6)) continue;
      if (chance(1, 3)) {
        free.push_back(date);
        continue;
      }
      const int from = opens_ + minutes(0, 120);
      const int until = from + minutes(180, 600);
      free.push_back(date + " " + clock_span(from, until));
      if (chance(1, 6)) {
        free.push_back(date + " " + clock_span(until + 30, until + 30 + minutes(90, 180)));
      }
    }
    if (free.empty()) free.push_back(dates_[0]);
    person["free"] = free;
  }

  void make_items(Object& out) {
    items_ = first_of(kItems, number(0, 5));
    if (items_.empty()) return;
    Object& list = out["items"] = Object::array();
    for (std::size_t i = 0; i < items_.size(); ++i) {
      Object item;
      item["id"] = items_[i];
      if (chance(2, 3)) item["count"] = number(1, 4);
      if (i + 1 < items_.size() && chance(1, 3)) {
        item["instead"] =
            some_of({items_.begin() + static_cast<std::ptrdiff_t>(i) + 1, items_.end()}, 1, 2);
      }
      if (chance(1, 6)) item["lent_by"] = one_of(people_);
      list.push_back(item);
    }
  }

  void make_stations(Object& out) {
    Object& list = out["stations"] = Object::array();
    stations_ = first_of(kStations, number(1, size_.stations));
    for (const std::string& id : stations_) {
      Object station;
      station["id"] = id;
      if (chance(1, 3)) station["place"] = one_of(places_);
      if (chance(1, 2)) station["places"] = number(1, 3);
      if (chance(1, 4)) station["open"] = clock_span(opens_, opens_ + minutes(420, 780));
      if (chance(1, 3)) station["staff"] = first_of(people_, number(2, 3));
      if (chance(1, 3)) station["set_minutes"] = minutes(5, 15);
      list.push_back(station);
    }
  }

  Object make_chain(int least, int most) {
    Object chain = Object::array();
    const int steps = number(least, most);
    for (int i = 0; i < steps; ++i) {
      Object step;
      step["at"] = one_of(stations_);
      step["minutes"] = minutes(3, 18);
      if (chance(2, 5)) step["by"] = "paint";
      if (chance(1, 4)) step["then_wait"] = minutes(1, 10);
      chain.push_back(step);
    }
    return chain;
  }

  void make_looks(Object& out) {
    looks_ = first_of(kLooks, number(0, size_.looks));
    if (looks_.empty()) return;
    Object& list = out["looks"] = Object::array();
    for (const std::string& id : looks_) {
      Object look;
      look["id"] = id;
      if (chance(1, 3)) look["tags"] = Names{"face-paint"};
      Object on = make_chain(chance(1, 8) ? 0 : 1, 3);
      if (!on.empty()) look["steps"] = on;
      if (chance(2, 3)) look["off"] = make_chain(1, 2);
      if (!on.empty() && chance(1, 4)) look["holds_for"] = minutes(60, 240);
      if (!items_.empty() && chance(1, 2)) look["items"] = some_of(items_, 1, 2);
      list.push_back(look);
    }
  }

  void make_roles(Object& out) {
    Object& list = out["roles"] = Object::array();
    roles_ = first_of(kRoles, number(1, size_.roles));
    for (const std::string& id : roles_) {
      Object role;
      role["id"] = id;
      const bool crowd = chance(2, 5);
      if (crowd) role["crowd"] = true;
      if (!looks_.empty() && chance(2, 3)) {
        role["look"] = one_of(looks_);
      } else if (chance(1, 4)) {
        role["look"] = "any";
      }
      if (!crowd && chance(1, 3)) {
        role["person"] = someone_coming();
      } else {
        if (chance(1, 4)) role["from"] = some_of(people_, 1, 4);
        if (chance(1, 6)) role["needs"] = Names{one_of(kSkills)};
        if (chance(1, 6)) role["tags"] = Names{one_of(kRefusals)};
      }
      list.push_back(role);
    }
  }

  std::string someone_coming() {
    Names coming;
    for (const std::string& who : people_) {
      if (!coming_.contains(who) || coming_[who]) coming.push_back(who);
    }
    return one_of(coming);
  }

  Object make_crew() {
    Object crew = Object::array();
    for (const char* job : {"camera", "light"}) {
      if (!chance(1, 2)) continue;
      Object call;
      call["job"] = job;
      if (chance(1, 4)) call["people"] = 2;
      if (chance(1, 4)) call["needs"] = Names{one_of(kSkills)};
      if (chance(1, 4)) call["from"] = some_of(people_, 1, 4);
      crew.push_back(call);
    }
    return crew;
  }

  void make_units(Object& out) {
    units_ = first_of({"main", "table"}, number(1, size_.units));
    if (units_.size() == 1 && chance(1, 2)) return;
    Object& list = out["units"] = Object::array();
    for (const std::string& id : units_) {
      Object unit;
      unit["id"] = id;
      if (chance(1, 3)) unit["crew"] = make_crew();
      list.push_back(unit);
    }
  }

  void make_scenes(Object& out) {
    Object& list = out["scenes"] = Object::array();
    const int count = number(1, size_.scenes);
    for (int i = 0; i < count; ++i) {
      Object scene;
      scene["id"] = kScenes[static_cast<std::size_t>(i)];
      if (chance(1, 2)) scene["place"] = one_of(places_);
      if (units_.size() > 1 && chance(2, 3)) scene["unit"] = one_of(units_);
      if (chance(1, 3)) scene["set"] = chance(1, 2) ? "slipway" : "cellar";
      if (chance(2, 3)) scene["set_minutes"] = minutes(5, 20);
      if (chance(1, 3)) scene["reset_minutes"] = minutes(0, 5);
      scene["shoot_minutes"] = minutes(5, 40);
      make_cast(scene, out["roles"]);
      if (chance(1, 3)) scene["crew"] = make_crew();
      if (!items_.empty() && chance(1, 4)) {
        Object prop;
        prop["item"] = one_of(items_);
        if (chance(1, 4)) prop["count"] = number(1, 2);
        scene["props"] = Object::array({prop});
      }
      make_window(scene, i);
      if (chance(1, 5)) scene["worth"] = std::vector<double>{0.5, 2, 3}[random_.index(3)];
      if (chance(1, 6)) scene["optional"] = true;
      if (chance(1, 5)) scene["hazards"] = some_of({"fog", "water", "height"}, 1, 2);
      list.push_back(scene);
    }
  }

  void make_cast(Object& scene, const Object& roles) {
    Object cast = Object::array();
    std::set<std::string> fixed;
    for (const std::string& id : some_of(roles_, chance(1, 10) ? 0 : 1, 3)) {
      const auto role = std::find_if(
          roles.begin(), roles.end(), [&](const Object& row) { return row["id"] == id; });
      // Two parts fixed to one person never meet.
      if (role->contains("person") && !fixed.insert((*role)["person"]).second) continue;
      Object call;
      call["role"] = id;
      if (role->contains("crowd") && chance(2, 3)) call["people"] = number(1, 4);
      cast.push_back(call);
    }
    if (!cast.empty()) scene["cast"] = cast;
  }

  void make_window(Object& scene, int index) {
    if (located_ && chance(1, 5)) {
      const Names day_light = {"day", "day", "golden", "any"};
      const Names night_light = {"dark", "dusk", "dark", "any"};
      scene["light"] = one_of(night_ ? night_light : day_light);
    }
    if (chance(1, 6)) {
      const int from = opens_ + minutes(60, 240);
      scene["between"] = clock_span(from, from + minutes(90, 300));
    } else if (chance(1, 10)) {
      scene["at"] = clock(opens_ + minutes(120, 360));
    }
    if (index > 0 && chance(1, 4)) {
      scene["after"] = Names{kScenes[random_.index(static_cast<std::size_t>(index))]};
    }
    if (chance(1, 8)) scene["day"] = one_of(dates_);
  }

  Random random_;
  ProductionSize size_;
  const Somewhere* somewhere_ = nullptr;
  bool night_ = false;
  bool located_ = true;
  int opens_ = 0;  ///< when things begin [minutes on the wall]
  Names dates_, places_, people_, items_, stations_, looks_, roles_, units_;
  std::map<std::string, bool> coming_;
};

}  // namespace

std::string random_production(std::uint64_t seed, const ProductionSize& size) {
  return Maker(seed, size).make();
}

}  // namespace gp::test
