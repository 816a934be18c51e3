#pragma once

#include "model/plan.h"
#include "model/production.h"

#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

namespace gp::test {

/// How full a made-up day is.
struct BusyDay {
  std::size_t people = 26;
  std::size_t scenes = 14;
  std::size_t name_length = 16;  ///< of every name, in letters
  std::size_t parts = 6;         ///< played by one person each
  std::size_t crowds = 3;
  std::size_t calls = 12;  ///< different times to arrive
  bool every_hazard = true;
  std::string notes = "High water at ten to five. Nobody below the third step without the watch.";
};

/// A name of exactly that many letters, different for every number, in several scripts.
inline std::string long_name(std::size_t number, std::size_t length) {
  static const std::vector<std::u32string> kFirst = {
      U"Zoë", U"Łukasz", U"Артём", U"Nguyễn", U"Άννα", U"נועה", U"محمد", U"李小龍", U"Íñigo"};
  std::u32string name = kFirst[number % kFirst.size()] + U" ";
  for (const char digit : std::to_string(number)) name += static_cast<char32_t>(digit);
  static const std::u32string kMore = U" Fitzwilliam de la Vega y Montoya Wintergreen Abernathy";
  for (std::size_t i = 0; name.size() < length; ++i) name += kMore[i % kMore.size()];
  name.resize(std::max<std::size_t>(length, 3));
  while (name.back() == U' ') name.back() = U'e';
  std::string utf8;
  for (const char32_t letter : name) {
    const auto code = static_cast<std::uint32_t>(letter);
    auto put = [&](std::uint32_t byte) { utf8 += static_cast<char>(byte); };
    if (code < 0x80) {
      put(code);
    } else if (code < 0x800) {
      put(0xC0U | (code >> 6U));
      put(0x80U | (code & 0x3FU));
    } else {
      put(0xE0U | (code >> 12U));
      put(0x80U | ((code >> 6U) & 0x3FU));
      put(0x80U | (code & 0x3FU));
    }
  }
  return utf8;
}

struct MadeDay {
  Production production;
  Plan plan;
};

/// A day with everything on it, for the layout of sheets: sound in its references and in the order
/// of its times, but no planner's work.
inline MadeDay make_busy_day(const BusyDay& wish) {
  using std::chrono::day;
  using std::chrono::month;
  using std::chrono::year;
  MadeDay made;
  Production& p = made.production;
  p.title = "The Long Lemonade";
  p.language = "en-GB";
  p.zone = "Europe/Dublin";
  p.contact = {"Sami of the Lemonade", "+353 1 555 0100"};
  const PlaceId hall =
      p.places.add({"hall", "Parish hall", "12 Long Lane, Ballymade", Geo{53.3, -6.2}, false, {}});
  const PlaceId beach = p.places.add({"beach", "Beach below the lighthouse", "", {}, true, {}});
  Day today;
  today.date = Date{year(2027), month(4), day(17)};
  today.base = hall;
  today.meals = {{"lunch", Minutes{40}, {}, true, {}}, {"soup", Minutes{20}, {}, false, 12}};
  today.first_aid = "Box behind the bar, and Li with the green armband";
  today.hospital = "Ballymade General, Mill Road, day and night";
  today.notes = wish.notes;
  const DayId day_id = p.days.add(today);
  const UnitId unit = p.units.add({"main", "Main unit", {}});
  Item spec;
  spec.id = "helmet";
  spec.name = "Helmet of tin foil";
  spec.count = 400;
  spec.lent_by = PersonId(0);
  const ItemId helmet = p.items.add(spec);
  spec = Item();
  spec.id = "lamp";
  spec.name = "Storm lamp";
  spec.count = 2;
  spec.lent_by = PersonId(1);
  const ItemId lamp = p.items.add(spec);
  const StationId rail = p.stations.add({"rail", "Costume rail", hall, 4, {}, {}, Minutes{0}});
  const StationId paint = p.stations.add({"paint", "Face paint", hall, 3, {}, {}, Minutes{15}});
  Look guard;
  guard.id = "guard";
  guard.name = "Guard";
  guard.tags = {"face-paint"};
  guard.steps = {{rail, Minutes{6}, "", Minutes{0}}, {paint, Minutes{10}, "paint", Minutes{0}}};
  guard.items = {helmet};
  guard.wear = "grey trousers, flat shoes";
  guard.bring = "a towel";
  const LookId look = p.looks.add(guard);
  for (std::size_t i = 0; i < wish.people; ++i) {
    Person person;
    person.id = "p" + std::to_string(i);
    person.name = long_name(i, wish.name_length);
    person.skin = "SECRETSKIN" + std::to_string(i);
    person.food = "SECRETFOOD" + std::to_string(i);
    person.phone = "SECRETPHONE" + std::to_string(i);
    person.email = "SECRETMAIL" + std::to_string(i);
    person.sizes = {{"head_cm", 57}};
    if (i % 9 == 8) person.guardian = PersonId(i - 1);
    p.people.add(person);
  }
  std::vector<RoleId> roles;
  for (std::size_t i = 0; i < wish.parts + wish.crowds; ++i) {
    Role role;
    role.id = "r" + std::to_string(i);
    role.crowd = i >= wish.parts;
    role.name = role.crowd ? "Guards of the tower " + std::to_string(i)
                           : "Captain of the ship " + std::to_string(i);
    if (role.crowd) {
      role.look_kind = LookKind::look;
      role.look = look;
    }
    roles.push_back(p.roles.add(role));
  }

  DayPlan plan;
  plan.day = day_id;
  const std::size_t heads = wish.people;
  // The first people play the parts, the last two stand behind the camera, the rest are crowds.
  const std::size_t crew_from = heads > 4 ? heads - 2 : heads;
  for (std::size_t i = 0; i < wish.scenes; ++i) {
    Scene scene;
    scene.id = "s" + std::to_string(i);
    scene.name = std::to_string(i + 1) + ". The tower hears of the lemonade";
    scene.place = i % 2 == 0 ? hall : beach;
    scene.unit = unit;
    scene.set_minutes = Minutes{10};
    scene.shoot_minutes = Minutes{15};
    scene.light = i % 5 == 4 ? Light::golden : Light::any;
    scene.notes = "Quiet, please.";
    scene.props = {{lamp, 1}};
    static const std::vector<std::string> kHazards = {"fog",
                                                      "water",
                                                      "fire",
                                                      "height",
                                                      "vehicle",
                                                      "replica-weapon",
                                                      "flashing-light",
                                                      "lifting",
                                                      "heat",
                                                      "cold",
                                                      "latex",
                                                      "glitter",
                                                      "food",
                                                      "animals",
                                                      "power"};
    if (wish.every_hazard) scene.hazards = {kHazards[i % kHazards.size()]};
    if (wish.every_hazard && i == 0) scene.hazards = kHazards;
    const SceneId id = p.scenes.add(scene);
    PlannedScene planned;
    planned.scene = id;
    planned.unit = unit;
    planned.set_at = minute(static_cast<std::int32_t>(9 * 60 + 25 * i));
    planned.shoot_at = planned.set_at + Minutes{10};
    planned.until = planned.shoot_at + Minutes{15};
    for (std::size_t r = 0; r < roles.size(); ++r) {
      CastEntry cast;
      cast.role = roles[r];
      if (r < wish.parts) {
        if (r < crew_from) cast.people = {PersonId(r)};
      } else {
        for (std::size_t who = wish.parts; who < crew_from; ++who) {
          if ((who - wish.parts) % std::max<std::size_t>(wish.crowds, 1) == r - wish.parts) {
            cast.people.push_back(PersonId(who));
          }
        }
      }
      if (!cast.people.empty()) planned.cast.push_back(cast);
    }
    for (std::size_t who = crew_from; who < heads; ++who) {
      planned.crew.push_back({who % 2 == 0 ? "camera" : "sound", {PersonId(who)}});
    }
    plan.scenes.push_back(planned);
  }
  Minute wrap = minute(10 * 60);
  if (!plan.scenes.empty()) {
    plan.first_shot = plan.scenes.front().shoot_at;
    wrap = plan.scenes.back().until;
    plan.wrap = wrap;
  }
  for (std::size_t who = wish.parts; who < crew_from; ++who) {
    const auto at = static_cast<std::int32_t>(7 * 60 + (who % wish.calls) * 5);
    const PersonId person(who);
    plan.wears.push_back({person, look, minute(at), wrap, {helmet}});
    plan.steps.push_back({person,
                          look,
                          ChainPart::on,
                          0,
                          rail,
                          static_cast<int>(who % 4) + 1,
                          PersonId(),
                          minute(at),
                          minute(at + 6)});
    plan.steps.push_back({person,
                          look,
                          ChainPart::on,
                          1,
                          paint,
                          static_cast<int>(who % 3) + 1,
                          PersonId(0),
                          minute(at + 6),
                          minute(at + 16)});
  }
  if (heads > 0)
    plan.ready.push_back({PersonId(0), paint, minute(6 * 60 + 40), minute(6 * 60 + 55)});
  PlannedMeal lunch{"lunch", minute(13 * 60), minute(13 * 60 + 40), {}};
  for (std::size_t who = 0; who < heads; ++who) lunch.people.push_back(PersonId(who));
  plan.meals.push_back(lunch);
  for (std::size_t who = 0; who < heads; ++who) {
    const auto call = static_cast<std::int32_t>(6 * 60 + 30 + (who % wish.calls) * 5);
    plan.people.push_back(
        {PersonId(who), minute(call), wrap, wrap - minute(call), Minutes{0}, Minutes{0}});
  }
  std::stable_sort(plan.people.begin(), plan.people.end(), [](const Stay& a, const Stay& b) {
    return a.call < b.call;
  });
  made.plan.title = p.title;
  made.plan.days.push_back(plan);
  return made;
}

}  // namespace gp::test
