#include "web/friends/own_day.h"

#include <algorithm>
#include <set>

namespace gp {
namespace {

const Stay* stay_of(const DayFacts& facts, PersonId person) {
  for (const Stay& stay : facts.plan().people) {
    if (stay.person == person) return &stay;
  }
  return nullptr;
}

std::string place_name(const Place& place) {
  return place.name.empty() ? place.id : place.name;
}

std::string what(const DayFacts& facts,
                 const DayEngagement& one,
                 const std::string& language,
                 SlipWords& words) {
  const Production& production = facts.production();
  const auto say = [&](const char* key, const std::vector<WordValue>& values = {}) {
    return words.say(language, key, values);
  };
  switch (one.kind) {
    case DayEngagement::Kind::step: {
      const Station& station = production.stations[one.station];
      std::string text = say(one.part == ChainPart::on ? "slip.on" : "slip.off",
                             {{"look", production.looks[one.look].shown()}});
      text += " · ";
      text += station.places > 1
                  ? say("slip.at",
                        {{"station", station.shown()}, {"place", std::int64_t{one.station_place}}})
                  : say("slip.at_one", {{"station", station.shown()}});
      if (one.by.valid()) {
        text += ", " + say("slip.by", {{"name", first_name(production.people[one.by].shown())}});
      }
      return text;
    }
    case DayEngagement::Kind::staffing:
      return say("slip.staff",
                 {{"station", production.stations[one.station].shown()},
                  {"count", std::int64_t{one.people}}});
    case DayEngagement::Kind::ready:
      return say("slip.ready", {{"station", production.stations[one.station].shown()}});
    case DayEngagement::Kind::cast:
      return say("slip.as",
                 {{"scene", production.scenes[one.scene].shown()},
                  {"role", production.roles[one.role].shown()}});
    case DayEngagement::Kind::crew:
      return say("slip.job", {{"scene", production.scenes[one.scene].shown()}, {"job", one.name}});
    case DayEngagement::Kind::meal:
      return one.name;
  }
  return {};
}

void add_looks(OwnDay& own, const DayFacts& facts, PersonId person) {
  const Production& production = facts.production();
  std::vector<LookId> looks;
  std::vector<const Wear*> first;
  for (const Wear& worn : facts.plan().wears) {
    if (worn.person != person) continue;
    if (std::find(looks.begin(), looks.end(), worn.look) != looks.end()) continue;
    looks.push_back(worn.look);
    first.push_back(&worn);
  }
  for (const Wear* worn : first) {
    const Look& look = production.looks[worn->look];
    const auto put = [&](std::vector<std::string>& list, const std::string& text) {
      if (text.empty()) return;
      list.push_back(looks.size() > 1 ? look.shown() + ": " + text : text);
    };
    put(own.wear, look.wear);
    put(own.bring, look.bring);
    for (const ItemId item : worn->items) own.given.push_back(production.items[item].shown());
  }
}

}  // namespace

std::string first_name(const std::string& name) {
  const std::size_t blank = name.find(' ');
  return blank == std::string::npos || blank == 0 ? name : name.substr(0, blank);
}

std::optional<OwnDay> own_day(const DayFacts& facts,
                              PersonId person,
                              const std::string& language,
                              SlipWords& words) {
  const Stay* const stay = stay_of(facts, person);
  if (stay == nullptr) return std::nullopt;
  const Production& production = facts.production();
  OwnDay own;
  own.date = facts.day().date;
  own.call_at = stay->call;
  own.released_at = stay->released;
  own.call = facts.clock(stay->call);
  own.released = facts.clock(stay->released);
  own.notes = facts.day().notes;
  own.passes_midnight = facts.passes_midnight();
  if (facts.day().base.valid()) {
    const Place& base = production.places[facts.day().base];
    own.place = place_name(base);
    own.address = base.address;
    own.geo = base.geo;
  }
  for (const DayEngagement& one : facts.engagements(person)) {
    OwnLine line;
    line.from = facts.clock(one.from);
    line.until = facts.clock(one.until);
    line.what = what(facts, one, language, words);
    line.strong = one.kind == DayEngagement::Kind::cast || one.kind == DayEngagement::Kind::crew;
    if (one.place.valid() && one.place != facts.day().base) {
      line.place = place_name(production.places[one.place]);
    }
    own.lines.push_back(std::move(line));
  }
  add_looks(own, facts, person);
  for (const std::string& hazard : facts.cautions(person)) {
    own.cautions.push_back(words.caution(language, hazard));
  }
  const Person& self = production.people[person];
  if (self.guardian.valid()) own.guardian = first_name(production.people[self.guardian].shown());
  return own;
}

}  // namespace gp
