#include "cli/flow.h"
#include "cli/show_plan.h"
#include "text/width.h"
#include "time/clock.h"

#include <algorithm>
#include <array>
#include <map>
#include <tuple>
#include <utility>

namespace gp {
namespace {

/// The most people named one by one in a scene; a crowd's others are counted.
constexpr std::size_t kMostNamed = 12;

}  // namespace

std::string date_text(Date date) {
  constexpr std::array<const char*, 7> kWeekdays = {
      "Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};
  constexpr std::array<const char*, 12> kMonths = {"January",
                                                   "February",
                                                   "March",
                                                   "April",
                                                   "May",
                                                   "June",
                                                   "July",
                                                   "August",
                                                   "September",
                                                   "October",
                                                   "November",
                                                   "December"};
  const std::chrono::weekday weekday{std::chrono::sys_days{date}};
  return std::string(kWeekdays[weekday.c_encoding()]) + " " +
         std::to_string(static_cast<unsigned>(date.day())) + " " +
         kMonths[static_cast<unsigned>(date.month()) - 1] + " " +
         std::to_string(static_cast<int>(date.year()));
}

std::string DayText::at(Minute moment) const {
  return format(clock_.shown(moment));
}

std::string DayText::person(PersonId id) const {
  return harmless(production_.people[id].shown());
}

std::string DayText::people(const std::vector<PersonId>& all, std::size_t indent) const {
  std::vector<std::string> names;
  for (const PersonId id : all) names.push_back(person(id));
  return flow(names, ",", indent, view_.columns);
}

std::string DayText::heading() const {
  const Day& day = production_.days[day_.day];
  std::vector<std::string> facts;
  if (day.base.valid()) {
    const Place& base = production_.places[day.base];
    facts.push_back(harmless(base.name.empty() ? base.id : base.name));
  }
  if (day_.first_shot) {
    facts.push_back("first shot " + at(*day_.first_shot));
  } else {
    facts.emplace_back("nothing is filmed");
  }
  if (day_.wrap) facts.push_back("wrap " + at(*day_.wrap));
  facts.push_back("called: " + std::to_string(day_.people.size()));
  return view_.paint.heading(date_text(day.date)) + "\n" + flow(facts, ",", 0, view_.columns) +
         "\n";
}

std::string DayText::scenes() const {
  if (day_.scenes.empty()) return "";
  constexpr std::size_t kIndent = 24;  // two spaces, three times and the spaces between
  std::string text = "\n" + view_.paint.heading("Scenes") + "\n  " +
                     view_.paint.quiet("set-up  shot   until") + "\n";
  for (const PlannedScene& planned : day_.scenes) {
    const Scene& scene = production_.scenes[planned.scene];
    std::vector<std::string> facts = {harmless(scene.shown())};
    if (const PlaceId place = production_.place_of(planned.scene, day_.day); place.valid()) {
      const Place& there = production_.places[place];
      facts.push_back(harmless(there.name.empty() ? there.id : there.name));
    }
    if (production_.units.size() > 1) {
      facts.push_back("(" + harmless(production_.units[planned.unit].shown()) + ")");
    }
    text += "  " + padded(at(planned.set_at), 8) + padded(at(planned.shoot_at), 7) +
            padded(at(planned.until), 7) + flow(facts, ",", kIndent, view_.columns) + "\n";
    const auto line = [&](const std::string& what, const std::vector<PersonId>& all) {
      std::vector<std::string> names;
      for (const PersonId id : all) names.push_back(person(id));
      if (names.size() > kMostNamed) {
        const std::size_t others = names.size() - kMostNamed;
        names.resize(kMostNamed);
        names.push_back("and " + std::to_string(others) + " more");
      }
      // the part is a piece of its own, so that the names go on in the same line
      if (names.empty()) names.emplace_back("nobody");
      names.front().insert(0, what + ": ");
      text += std::string(kIndent, ' ') + flow(names, ",", kIndent + 2, view_.columns) + "\n";
    };
    for (const CastEntry& cast : planned.cast) {
      line(harmless(production_.roles[cast.role].shown()), cast.people);
    }
    for (const CrewEntry& crew : planned.crew) line(harmless(crew.job), crew.people);
  }
  return text;
}

std::string DayText::calls() const {
  if (day_.people.empty()) return "";
  std::map<Minute, std::vector<std::string>> by_call;
  for (const Stay& stay : day_.people) {
    by_call[stay.call].push_back(person(stay.person) + " (" + at(stay.released) + ")");
  }
  std::string text = "\n" + view_.paint.heading("Calls") + "\n  " +
                     view_.paint.quiet("call   who (released)") + "\n";
  for (const auto& [call, names] : by_call) {
    text += "  " + padded(at(call), 7) + flow(names, ",", 9, view_.columns) + "\n";
  }
  return text;
}

std::string DayText::meals() const {
  if (day_.meals.empty()) return "";
  std::string text = "\n" + view_.paint.heading("Meals") + "\n";
  std::vector<PlannedMeal> in_order = day_.meals;
  std::stable_sort(in_order.begin(), in_order.end(), [](const auto& a, const auto& b) {
    return std::tie(a.from, a.until) < std::tie(b.from, b.until);
  });
  for (const PlannedMeal& meal : in_order) {
    std::vector<std::string> pieces;
    for (const PersonId id : meal.people) pieces.push_back(person(id));
    if (pieces.empty()) pieces.emplace_back("nobody");
    pieces.front().insert(0, harmless(meal.meal) + ": ");
    text += "  " + at(meal.from) + "-" + at(meal.until) + "  " +
            flow(pieces, ",", 15, view_.columns) + "\n";
  }
  return text;
}

}  // namespace gp
