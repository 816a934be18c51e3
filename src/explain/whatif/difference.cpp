#include "explain/whatif/difference.h"

#include "time/day_clock.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace gp::whatif {
namespace {

struct Stayed {
  Minute call;
  WallTime shown;
};

/// A plan by the ids and dates of its file.
struct ById {
  const Production& production;
  std::map<Date, DayRow> days;  ///< `before` alone is filled
  std::map<std::pair<Date, std::string>, Stayed> calls;
  std::set<std::string> people;
  std::set<std::string> filmed;
  std::map<std::string, std::string> why;                             ///< of scenes lost
  std::map<std::tuple<std::string, bool, std::string>, int> missing;  ///< scene, job?, what

  ById(const Production& the_production, const Plan& plan) : production(the_production) {
    for (const DayPlan& day : plan.days) add(day);
    for (const NotFilmed& row : plan.not_filmed) {
      why.emplace(production.scenes[row.scene].id, row.why);
    }
    for (const Unfilled& row : plan.unfilled) {
      missing[{production.scenes[row.scene].id,
               !row.role.valid(),
               row.role.valid() ? production.roles[row.role].id : row.job}] += row.missing;
    }
  }

  [[nodiscard]] int heads_missing(const std::tuple<std::string, bool, std::string>& key) const {
    const auto found = missing.find(key);
    return found == missing.end() ? 0 : found->second;
  }

 private:
  void add(const DayPlan& day) {
    const Date date = production.days[day.day].date;
    const CalendarDay clock(date, production.zone);
    DayRow& row = days[date];
    row.date = date;
    if (day.first_shot) row.first_shot.before = clock.shown(*day.first_shot);
    if (day.wrap) row.wrap.before = clock.shown(*day.wrap);
    std::optional<Minute> first;
    for (const Stay& stay : day.people) {
      const std::string& id = production.people[stay.person].id;
      calls[{date, id}] = {stay.call, clock.shown(stay.call)};
      people.insert(id);
      first = std::min(first.value_or(kNever), stay.call);
    }
    if (first) row.first_call.before = clock.shown(*first);
    for (const PlannedScene& scene : day.scenes) {
      filmed.insert(production.scenes[scene.scene].id);
    }
  }
};

/// The rows of a table of both productions: first those of the one before, then what the other has
/// besides. \param visit  gets the row and whether each has it
template <class Table, class Visit>
void each_of_both(const Table& before, const Table& after, const Visit& visit) {
  std::set<std::string> ids_before;
  std::set<std::string> ids_after;
  for (const auto& row : before) ids_before.insert(row.id);
  for (const auto& row : after) ids_after.insert(row.id);
  for (const auto& row : before) visit(row, true, ids_after.contains(row.id));
  for (const auto& row : after) {
    if (!ids_before.contains(row.id)) visit(row, false, true);
  }
}

std::vector<DayRow> day_rows(const ById& one, const ById& two) {
  std::map<Date, DayRow> rows = one.days;
  for (const auto& [date, row] : two.days) {
    DayRow& both = rows[date];
    both.date = date;
    both.first_call.after = row.first_call.before;
    both.first_shot.after = row.first_shot.before;
    both.wrap.after = row.wrap.before;
  }
  std::vector<DayRow> all;
  for (const auto& entry : rows) all.push_back(entry.second);
  return all;
}

std::vector<CallRow> call_rows(const ById& one, const ById& two, const std::vector<DayRow>& days) {
  std::vector<CallRow> rows;
  for (const DayRow& day : days) {
    each_of_both(
        one.production.people, two.production.people, [&](const Person& person, bool, bool) {
          const auto before = one.calls.find({day.date, person.id});
          const auto after = two.calls.find({day.date, person.id});
          CallRow row{person.id, person.shown(), day.date, {}, Minutes{0}};
          if (before != one.calls.end()) row.call.before = before->second.shown;
          if (after != two.calls.end()) row.call.after = after->second.shown;
          if (row.call.before && row.call.after) {
            row.later = after->second.call - before->second.call;
            if (row.later == Minutes{0}) return;
          }
          if (row.call.before || row.call.after) rows.push_back(row);
        });
  }
  return rows;
}

void add_scenes(const ById& one, const ById& two, Difference& result) {
  each_of_both(one.production.scenes,
               two.production.scenes,
               [&](const Scene& scene, bool in_before, bool in_after) {
                 const bool before = one.filmed.contains(scene.id);
                 const bool after = two.filmed.contains(scene.id);
                 SceneRow row{scene.id, scene.shown(), {}};
                 if (!in_after) {
                   result.no_longer.push_back(row);
                 } else if (!in_before) {
                   result.newly.push_back(row);
                 } else if (after && !before) {
                   result.won.push_back(row);
                 } else if (before && !after) {
                   if (const auto why = two.why.find(scene.id); why != two.why.end()) {
                     row.why = why->second;
                   }
                   result.lost.push_back(row);
                 }
               });
}

void add_heads(const ById& one, const ById& two, Difference& result) {
  std::map<std::string, std::set<std::pair<bool, std::string>>> concerned;  // by scene
  std::map<std::string, std::string> role_names;
  for (const ById* side : {&one, &two}) {
    for (const auto& [key, heads] : side->missing) {
      concerned[std::get<0>(key)].emplace(std::get<1>(key), std::get<2>(key));
    }
    for (const Role& role : side->production.roles) role_names.emplace(role.id, role.shown());
  }
  each_of_both(one.production.scenes, two.production.scenes, [&](const Scene& scene, bool, bool) {
    if (!one.filmed.contains(scene.id) || !two.filmed.contains(scene.id)) return;
    for (const auto& [job, what] : concerned[scene.id]) {
      const std::tuple<std::string, bool, std::string> key{scene.id, job, what};
      const Both<int> missing{one.heads_missing(key), two.heads_missing(key)};
      if (missing.before == missing.after) continue;
      result.heads.push_back(
          {scene.id, scene.shown(), what, job ? what : role_names[what], job, missing});
    }
  });
}

}  // namespace

Difference difference(const Production& before_production,
                      const Plan& before,
                      const Production& after_production,
                      const Plan& after) {
  const ById one(before_production, before);
  const ById two(after_production, after);
  Difference result;
  result.price = {price(before_production, before), price(after_production, after)};
  result.people = {one.people.size(), two.people.size()};
  result.days = day_rows(one, two);
  result.calls = call_rows(one, two, result.days);
  add_scenes(one, two, result);
  add_heads(one, two, result);
  return result;
}

}  // namespace gp::whatif
