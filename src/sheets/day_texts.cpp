#include "sheets/day_texts.h"

#include <algorithm>
#include <map>

namespace gp {
namespace {

constexpr std::size_t kCrowdNamedUpTo = 4;  ///< a bigger crowd of one call is counted
constexpr Ink kLabel{Weight::regular, 0.38};

}  // namespace

std::vector<Figure> DayTexts::figures() const {
  std::vector<Figure> figures;
  const DayPlan& plan = facts_.plan();
  if (!plan.people.empty()) {
    Minute first = plan.people.front().call;
    for (const Stay& stay : plan.people) first = std::min(first, stay.call);
    figures.push_back({words_.say("day.first_call"), facts_.clock(first), true});
  }
  if (plan.first_shot) {
    figures.push_back({words_.say("day.first_shot"), facts_.clock(*plan.first_shot), true});
  }
  if (plan.wrap) figures.push_back({words_.say("day.wrap"), facts_.clock(*plan.wrap), true});
  std::vector<std::string> told;
  for (const PlannedMeal& meal : plan.meals) {
    if (std::find(told.begin(), told.end(), meal.meal) != told.end()) continue;
    told.push_back(meal.meal);
    Minute from = meal.from;
    Minute until = meal.until;
    bool in_turns = false;
    for (const PlannedMeal& other : plan.meals) {
      if (other.meal != meal.meal) continue;
      in_turns = in_turns || other.from != meal.from;
      from = std::min(from, other.from);
      until = std::max(until, other.until);
    }
    Rich label;
    const std::string name =
        in_turns ? words_.say("day.in_turns", {{"meal", meal.meal}}) : meal.meal;
    figures.push_back({name, facts_.clocks(from, until), false});
  }
  if (const auto sun = facts_.sun()) {
    figures.push_back({words_.say("day.sun"), facts_.clocks(sun->from, sun->until), false});
  }
  return figures;
}

std::vector<DayFact> DayTexts::about() const {
  std::vector<DayFact> facts;
  const Production& production = facts_.production();
  const Day& day = facts_.day();
  if (day.base.valid()) {
    const Place& base = production.places[day.base];
    Rich text;
    text.add_name(base.name.empty() ? base.id : base.name, kStrong);
    if (!base.address.empty()) text.add(" ").add_name(base.address);
    facts.push_back({words_.say("day.base"), text});
  }
  if (!production.contact.name.empty() || !production.contact.phone.empty()) {
    Rich text;
    text.add_name(production.contact.name, kStrong);
    if (!production.contact.phone.empty())
      text.add(" ").add_name(unbroken(production.contact.phone));
    facts.push_back({words_.say("day.contact"), text});
  }
  auto add = [&](const char* label, const std::string& words) {
    if (words.empty()) return;
    Rich text;
    text.add_name(words);
    facts.push_back({words_.say(label), text});
  };
  add("day.first_aid", day.first_aid);
  add("day.hospital", day.hospital);
  return facts;
}

Rich DayTexts::names(const std::vector<PersonId>& people, Ink ink) const {
  std::vector<std::string> list;
  list.reserve(people.size());
  for (const PersonId person : people) list.push_back(facts_.production().people[person].shown());
  return joined(list, ink);
}

std::string DayTexts::people(std::size_t count) const {
  return words_.say("sheet.people", {{"count", static_cast<std::int64_t>(count)}});
}

Rich DayTexts::who_of(const PlannedScene& scene, Density::Who who) const {
  const Production& production = facts_.production();
  Rich text;
  std::size_t on_camera = 0;
  std::size_t behind = 0;
  for (const CastEntry& cast : scene.cast) on_camera += cast.people.size();
  for (const CrewEntry& crew : scene.crew) behind += crew.people.size();
  auto count = [&](const char* key, std::size_t number) {
    return words_.say(key, {{"count", static_cast<std::int64_t>(number)}});
  };
  if (who == Density::Who::numbers_only) {
    if (on_camera > 0) text.add(count("day.cast_count", on_camera));
    if (behind > 0) {
      text.add(text.empty() ? "" : ", ").add(count("day.crew_count", behind), kQuiet);
    }
    return text;
  }
  for (const CastEntry& cast : scene.cast) {
    const Role& role = production.roles[cast.role];
    if (!text.empty()) text.add(who == Density::Who::parts_only ? ", " : "; ");
    text.add_name(role.shown(), who == Density::Who::parts_only ? kPlain : Ink{Weight::bold, 0.0});
    const bool counted = who == Density::Who::parts_only
                             ? role.crowd
                             : who == Density::Who::crowds_counted && role.crowd &&
                                   cast.people.size() > kCrowdNamedUpTo;
    if (counted) {
      text.add("\u00a0×\u00a0" + std::to_string(cast.people.size()));
    } else if (who != Density::Who::parts_only) {
      text.add(" ").add(names(cast.people, kPlain));
    }
  }
  if (behind == 0) return text;
  if (!text.empty()) text.add(" · ", kQuiet);
  if (who == Density::Who::parts_only) return text.add(count("day.crew_count", behind), kQuiet);
  bool first = true;
  for (const CrewEntry& crew : scene.crew) {
    if (crew.people.empty()) continue;
    if (!first) text.add("; ", kQuiet);
    first = false;
    text.add_name(crew.job, kQuiet).add(" ", kQuiet).add(names(crew.people, kQuiet));
  }
  return text;
}

std::vector<SceneRow> DayTexts::scenes(Density::Who who) const {
  const Production& production = facts_.production();
  struct Timed {
    Minute at;
    SceneRow row;
  };
  std::vector<Timed> rows;
  for (const PlannedScene& planned : facts_.plan().scenes) {
    const Scene& scene = production.scenes[planned.scene];
    SceneRow row;
    row.set_up = planned.set_at < planned.shoot_at ? facts_.clock(planned.set_at) : "";
    row.shot = facts_.clock(planned.shoot_at);
    row.until = facts_.clock(planned.until);
    row.scene.add_name(scene.shown(), kStrong);
    if (production.units.size() > 1) {
      row.scene.add(" · ", kQuiet).add_name(production.units[planned.unit].shown(), kQuiet);
    }
    if (scene.light == Light::golden || scene.light == Light::dusk || scene.light == Light::dark) {
      const char* key = scene.light == Light::golden ? "day.light.golden"
                        : scene.light == Light::dusk ? "day.light.dusk"
                                                     : "day.light.dark";
      row.scene.add(" · " + words_.say(key), kQuiet);
    }
    const bool briefly = who == Density::Who::parts_only || who == Density::Who::numbers_only;
    if (!scene.notes.empty() && !briefly)
      row.scene.add(" · ", kQuiet).add_name(scene.notes, kQuiet);
    const PlaceId place = production.place_of(planned.scene, facts_.plan().day);
    if (place.valid()) {
      const Place& where = production.places[place];
      row.where.add_name(where.name.empty() ? where.id : where.name);
    }
    row.who = who_of(planned, who);
    rows.push_back({planned.set_at, std::move(row)});
  }
  for (const PlannedMeal& meal : facts_.plan().meals) {
    const auto& written = facts_.day().meals;
    const bool together = std::any_of(written.begin(), written.end(), [&](const Meal& one) {
      return one.name == meal.meal && one.together;
    });
    if (!together) continue;
    SceneRow row;
    row.meal = true;
    row.shot = facts_.clock(meal.from);
    row.until = facts_.clock(meal.until);
    row.scene.add_name(meal.meal, kStrong);
    row.who.add(people(meal.people.size()), kQuiet);
    rows.push_back({meal.from, std::move(row)});
  }
  std::stable_sort(
      rows.begin(), rows.end(), [](const Timed& a, const Timed& b) { return a.at < b.at; });
  std::vector<SceneRow> in_order;
  for (Timed& timed : rows) in_order.push_back(std::move(timed.row));
  return in_order;
}

CallRow DayTexts::one_call(const Stay& stay) const {
  const Person& person = facts_.production().people[stay.person];
  CallRow row;
  row.time = facts_.clock(stay.call);
  row.text.add_name(person.shown(), kStrong);
  const std::vector<std::string> parts = facts_.parts(stay.person);
  if (!parts.empty()) row.text.add(" ").add(joined(parts, kLabel));
  if (person.guardian.valid()) {
    const Person& guardian = facts_.production().people[person.guardian];
    row.text.add(" (" + words_.say("sheet.guardian", {{"name", guardian.shown()}}) + ")", kLabel);
  }
  return row;
}

Rich DayTexts::call_by_part(const std::vector<const Stay*>& together,
                            std::size_t named_up_to,
                            bool with_parts,
                            bool& all_named) const {
  const Production& production = facts_.production();
  std::vector<std::string> order;
  std::map<std::string, std::vector<const Stay*>> groups;
  std::map<std::string, bool> crowd;
  for (const Stay* stay : together) {
    const std::vector<std::string> parts = facts_.parts(stay->person);
    const std::string part = parts.empty() ? "" : parts.front();
    if (!groups.contains(part)) order.push_back(part);
    groups[part].push_back(stay);
    if (facts_.first_crowd(stay->person).valid()) crowd[part] = true;
  }
  Rich names_first;
  Rich counted;
  for (const std::string& part : order) {
    const std::vector<const Stay*>& group = groups[part];
    const bool may_count = with_parts ? crowd[part] : true;
    if (may_count && group.size() > named_up_to) {
      if (!counted.empty()) counted.add("; ");
      if (!part.empty()) counted.add(label(words_, part), kStrong);
      counted.add(people(group.size()));
      all_named = false;
      continue;
    }
    for (const Stay* stay : group) {
      if (!names_first.empty()) names_first.add(", ");
      names_first.add_name(production.people[stay->person].shown(), kStrong);
      const std::vector<std::string> parts = facts_.parts(stay->person);
      if (parts.empty()) continue;
      names_first.add(" ");
      if (with_parts) {
        names_first.add(joined(parts, kLabel));
      } else {
        names_first.add_name(parts.front(), kLabel);
      }
    }
  }
  if (!names_first.empty() && !counted.empty()) names_first.add("; ");
  return names_first.add(counted);
}

std::vector<CallRow> DayTexts::calls(Density::Calls calls, bool& all_named) const {
  all_named = true;
  std::vector<CallRow> rows;
  const std::vector<Stay>& stays = facts_.plan().people;
  if (calls == Density::Calls::each) {
    for (const Stay& stay : stays) rows.push_back(one_call(stay));
    return rows;
  }
  std::map<Minute, std::vector<const Stay*>> by_call;
  for (const Stay& stay : stays) by_call[stay.call].push_back(&stay);
  for (const auto& [call, together] : by_call) {
    CallRow row;
    row.time = facts_.clock(call);
    switch (calls) {
      case Density::Calls::each:
      case Density::Calls::by_call:
        row.text = call_by_part(together, kCrowdNamedUpTo, true, all_named);
        break;
      case Density::Calls::by_part:
        row.text = call_by_part(together, 1, false, all_named);
        break;
      case Density::Calls::numbers_only:
        row.text.add(people(together.size()));
        all_named = false;
        break;
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<Rich> DayTexts::cautions(bool brief) const {
  std::vector<Rich> texts;
  for (const std::string& hazard : facts_.cautions()) {
    texts.push_back(caution_text(words_, hazard, brief));
  }
  return texts;
}

std::vector<Rich> DayTexts::notes() const {
  std::vector<Rich> texts;
  if (facts_.passes_midnight()) texts.emplace_back(words_.say("day.after_midnight"), kQuiet);
  const std::string& notes = facts_.day().notes;
  for (std::size_t from = 0; from < notes.size();) {
    std::size_t until = notes.find('\n', from);
    if (until == std::string::npos) until = notes.size();
    Rich text;
    text.add_name(notes.substr(from, until - from));
    if (!text.empty()) texts.push_back(std::move(text));
    from = until + 1;
  }
  Rich missing;
  const Production& production = facts_.production();
  for (const Unfilled& unfilled : plan_.unfilled) {
    const auto& today = facts_.plan().scenes;
    if (std::none_of(today.begin(), today.end(), [&](const PlannedScene& scene) {
          return scene.scene == unfilled.scene;
        })) {
      continue;
    }
    missing.add(missing.empty() ? label(words_, words_.say("day.missing")) : ", ",
                missing.empty() ? kStrong : kPlain);
    const std::string what =
        unfilled.role.valid() ? production.roles[unfilled.role].shown() : unfilled.job;
    missing.add(words_.say("day.missing_one",
                           {{"count", std::int64_t{unfilled.missing}},
                            {"what", what},
                            {"scene", production.scenes[unfilled.scene].shown()}}));
  }
  if (!missing.empty()) texts.push_back(std::move(missing));
  return texts;
}

}  // namespace gp
