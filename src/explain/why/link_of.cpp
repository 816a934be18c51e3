#include "explain/why/link_of.h"

#include "explain/why/scene_room.h"
#include "explain/why/step_hold.h"

#include <algorithm>
#include <set>
#include <string>

namespace gp::why {
namespace {

using Next = std::optional<std::pair<PersonId, Row>>;

/// The row that an engagement of the person begins with at that moment.
Next row_at(const PlannedDay& day, PersonId who, WhyEngagement kind, const void* entry) {
  for (const Row& row : day.rows(who)) {
    if (row.kind != kind) continue;
    const bool same = kind == WhyEngagement::own_step ? &day.day.steps[row.index] == entry
                                                      : &day.day.scenes[row.index] == entry;
    if (same) return std::pair{who, row};
  }
  return std::nullopt;
}

/// What a step is done for: the next of its chain, the first scene in the look, or the first of the
/// person's next look.
Next after_step(const PlannedDay& day, std::size_t index) {
  const StepFrame frame = day.frame_of(index);
  const PersonId who = frame.step->person;
  if (frame.next != nullptr) return row_at(day, who, WhyEngagement::own_step, frame.next);
  if (frame.step->part == ChainPart::on) {
    if (frame.first == nullptr) return std::nullopt;
    return row_at(day, who, WhyEngagement::plays, frame.first);
  }
  for (const Row& row : day.rows(who)) {
    if (row.time.from < frame.step->until) continue;
    if (row.kind == WhyEngagement::own_step || row.kind == WhyEngagement::plays) {
      return std::pair{who, row};
    }
  }
  return std::nullopt;
}

std::string step_text(const PlannedDay& day, const PlannedStep& step, bool staffs) {
  std::string text = staffs ? day.name(step.person) + " at " : "";
  text += day.film.stations[step.station].shown() + ", place " + std::to_string(step.place) + " (" +
          day.film.looks[step.look].shown() + (step.part == ChainPart::on ? "" : " off");
  if (!staffs && step.by.valid()) text += ", by " + day.name(step.by);
  return text + ")";
}

void note_step(const PlannedDay& day, PersonId about, const Row& row, LinkFound& found) {
  const PlannedStep& step = day.day.steps[row.index];
  const bool staffs = row.kind == WhyEngagement::staffs;
  WhyLink& link = found.link;
  link.station = step.station;
  link.place = step.place;
  link.look = step.look;
  link.wearer = step.person;
  link.by = step.by;
  link.what = step_text(day, step, staffs);
  // asked about a helper whose wearer's further steps are followed: they are not the helper's
  const bool done_by_other = staffs && link.person == about;
  const StepHold hold = hold_of_step(day, row.index, done_by_other ? about : PersonId());
  for (const StepOption& option : hold.options) {
    if (option.from > link.latest) link.latest = option.from;
    if (option.frees && !link.instead.valid()) link.instead = option.by;
    if (link.person != about) continue;
    Rows rows =
        option.frees ? day.freed_of(about, row.index) : day.without(about, row.kind, row.index);
    if (!option.frees) {
      insert(rows,
             {row.kind, {option.from, option.from + row.time.length()}, row.place, row.index});
    }
    found.otherwise.push_back(std::move(rows));
  }
  link.held = hold.options.empty();
  link.causes = hold.causes;
  found.next = after_step(day, row.index);
}

void note_ready(const PlannedDay& day, PersonId about, const Row& row, LinkFound& found) {
  WhyLink& link = found.link;
  const Ready& ready = day.day.ready[row.index];
  link.station = ready.station;
  link.what = "getting " + day.film.stations[ready.station].shown() + " ready";
  const Row* first = nullptr;
  for (const Row& other : day.rows(about)) {
    if (other.kind != WhyEngagement::staffs ||
        day.day.steps[other.index].station != ready.station) {
      continue;
    }
    if (first == nullptr || other.time.from < first->time.from) first = &other;
  }
  const Rows rest = day.without(about, WhyEngagement::ready, row.index);
  const Minutes length = row.time.length();
  const Minute limit = first == nullptr ? row.time.from : first->time.from - length;
  std::vector<std::string> in_the_way;
  std::vector<Span> starts;
  for (Minute start = row.time.from + Minutes{1}; start <= limit; start += Minutes{1}) {
    const Span time{start, start + length};
    Rows rows = rest;
    insert(rows, {row.kind, time, row.place, row.index});
    if (day.nameable(time) && day.consistent(rows)) {
      link.latest = start;
      found.otherwise.push_back(std::move(rows));
      in_the_way.clear();
      starts.clear();
      continue;
    }
    const auto other = day.in_the_way(rest, time, row.place);
    const std::string text = other ? day.what(*other, about) + " " + day.span(other->time)
                                   : std::string("has no time for the ways");
    if (std::find(in_the_way.begin(), in_the_way.end(), text) == in_the_way.end()) {
      in_the_way.push_back(text);
    }
    if (!starts.empty() && starts.back().until == start) {
      starts.back().until += Minutes{1};
    } else {
      starts.push_back({start, start + Minutes{1}});
    }
  }
  link.held = link.latest == row.time.from;
  if (!in_the_way.empty()) {
    WhyCause cause;
    cause.fact = WhyFact::own_time;
    cause.person = about;
    cause.starts = starts;
    cause.text = day.name(about) + " " + listed(in_the_way, 3);
    link.causes.push_back(std::move(cause));
  }
  if (first == nullptr) return;
  WhyCause cause;
  cause.fact = WhyFact::first_staffed;
  cause.person = day.day.steps[first->index].person;
  cause.station = ready.station;
  cause.moment = first->time.from;
  cause.text = day.name(cause.person) + " is there at " + day.at(first->time.from);
  link.causes.push_back(std::move(cause));
  found.next = std::pair{about, *first};
}

/// Whether a meal may be at that time with everyone who eats it then.
bool meal_fits(
    const PlannedDay& day, const MealFrame& meal, std::size_t index, Span time, WhyCause& cause) {
  const PlannedMeal& entry = day.day.meals[index];
  std::set<PersonId> eaters;
  if (meal.together) {
    for (const PlannedMeal& other : day.day.meals) {
      if (other.meal == meal.name) eaters.insert(other.people.begin(), other.people.end());
    }
    for (const PlannedScene& scene : day.day.scenes) {
      if (scene.set_at < time.until && time.from < scene.until) {
        cause.fact = WhyFact::meal_people;
        cause.scene = scene.scene;
        cause.text = "\"" + day.film.scenes[scene.scene].shown() + "\" is filmed then";
        return false;
      }
    }
    for (const Stay& stay : day.day.people) {
      if (Span{stay.call, stay.released}.covers(time) && !eaters.contains(stay.person)) {
        cause.fact = WhyFact::meal_people;
        cause.person = stay.person;
        cause.text = day.name(stay.person) + " would be there and have to eat too";
        return false;
      }
    }
  } else {
    eaters.insert(entry.people.begin(), entry.people.end());
    for (Minute at = time.from; at < time.until; at += Minutes{1}) {
      int seated = static_cast<int>(entry.people.size());
      for (std::size_t i = 0; i < day.day.meals.size(); ++i) {
        const PlannedMeal& other = day.day.meals[i];
        if (i == index || other.meal != meal.name || at < other.from || at >= other.until) continue;
        seated += static_cast<int>(other.people.size());
      }
      if (seated > meal.seats) {
        cause.fact = WhyFact::meal_seats;
        cause.text = "all " + std::to_string(meal.seats) + " seats are taken";
        return false;
      }
    }
  }
  for (const PersonId who : eaters) {
    Rows rows;
    for (const Row& row : day.rows(who)) {
      const bool this_meal =
          row.kind == WhyEngagement::meal && day.day.meals[row.index].meal == meal.name;
      if (!this_meal) rows.push_back(row);
    }
    const auto other = day.in_the_way(rows, time, PlaceId());
    insert(rows, {WhyEngagement::meal, time, PlaceId(), index});
    if (!other && day.consistent(rows) && day.stays_within(who, rows)) continue;
    cause.fact = meal.together ? WhyFact::meal_people : WhyFact::own_time;
    cause.person = who;
    cause.text = day.name(who) + " " +
                 (other ? day.what(*other, who) + " " + day.span(other->time)
                        : std::string("has no time then"));
    return false;
  }
  return true;
}

void note_meal(const PlannedDay& day, PersonId about, const Row& row, LinkFound& found) {
  WhyLink& link = found.link;
  const PlannedMeal& entry = day.day.meals[row.index];
  link.meal = entry.meal;
  link.what = entry.meal;
  const MealFrame* meal = nullptr;
  for (const MealFrame& one : day.frame.meals) {
    if (one.name == entry.meal) meal = &one;
  }
  if (meal == nullptr) return;
  const Rows rest = day.without(about, WhyEngagement::meal, row.index);
  std::vector<WhyCause> causes;
  for (Minute start = row.time.from + Minutes{1}; start + row.time.length() <= meal->between.until;
       start += Minutes{1}) {
    const Span time{start, start + row.time.length()};
    WhyCause cause;
    if (!day.nameable(time)) {
      cause.fact = WhyFact::clock_change;
      cause.text = "the clock shows no such time that night";
    } else if (meal_fits(day, *meal, row.index, time, cause)) {
      link.latest = start;
      causes.clear();
      Rows rows = rest;
      insert(rows, {row.kind, time, row.place, row.index});
      found.otherwise.push_back(std::move(rows));
      continue;
    }
    const Span one{start, start + Minutes{1}};
    const auto known = std::find_if(causes.begin(), causes.end(), [&](const WhyCause& other) {
      return other.text == cause.text;
    });
    if (known == causes.end()) {
      cause.starts = {one};
      causes.push_back(std::move(cause));
    } else if (known->starts.back().until == start) {
      known->starts.back().until = one.until;
    } else {
      known->starts.push_back(one);
    }
  }
  // who comes later need not eat any more, where their stay then no longer asks for it
  if (const auto call = day.call_of(rest); call && day.consistent(rest)) {
    const Span stay{*call, day.stay(about)->released};
    const Span due = meal->together ? row.time : meal->between;
    if (!stay.covers(due) && *call > day.stay(about)->call) found.otherwise.push_back(rest);
  }
  link.held = found.otherwise.empty();
  WhyCause cause;
  cause.fact = WhyFact::meal_span;
  cause.moment = meal->between.until;
  cause.text = meal->name + " is eaten until " + day.at(meal->between.until);
  causes.push_back(std::move(cause));
  link.causes = std::move(causes);
  for (const Row& other : day.rows(about)) {
    if (other.time.from < row.time.until) continue;
    found.next = std::pair{about, other};
    break;
  }
}

bool holds(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

/// Somebody else who is there and could take over the job, all else as it is.
PersonId could_help(const PlannedDay& day, PersonId about, const Row& row) {
  const PlannedScene& planned = day.day.scenes[row.index];
  const Scene& scene = day.film.scenes[planned.scene];
  std::string job;
  std::set<PersonId> in_it;
  for (const CastEntry& entry : planned.cast)
    in_it.insert(entry.people.begin(), entry.people.end());
  for (const CrewEntry& entry : planned.crew) {
    in_it.insert(entry.people.begin(), entry.people.end());
    if (std::find(entry.people.begin(), entry.people.end(), about) != entry.people.end()) {
      job = entry.job;
    }
  }
  const std::vector<CrewCall> calls = day.film.crew_of(planned.scene);
  for (const Stay& stay : day.day.people) {
    const PersonId who = stay.person;
    if (in_it.contains(who)) continue;
    const Person& person = day.film.people[who];
    const bool fits = std::any_of(calls.begin(), calls.end(), [&](const CrewCall& call) {
      return call.job == job &&
             (call.from.empty() ||
              std::find(call.from.begin(), call.from.end(), who) != call.from.end()) &&
             std::all_of(call.needs.begin(), call.needs.end(), [&](const std::string& need) {
               return holds(person.can, need);
             });
    });
    const bool refuses = std::any_of(scene.hazards.begin(),
                                     scene.hazards.end(),
                                     [&](const std::string& tag) { return holds(person.no, tag); });
    if (!fits || refuses) continue;
    Rows rows = day.rows(who);
    insert(rows, row);
    if (!day.consistent(rows) || !day.stays_within(who, rows)) continue;
    if (!day.consistent(day.without(about, row.kind, row.index))) continue;
    return who;
  }
  return {};
}

void note_scene(const PlannedDay& day, PersonId about, const Row& row, LinkFound& found) {
  WhyLink& link = found.link;
  const PlannedScene& planned = day.day.scenes[row.index];
  link.scene = planned.scene;
  const bool crew = row.kind == WhyEngagement::crew;
  link.what = (crew ? "crew of \"" : "shot of \"") + day.film.scenes[planned.scene].shown() + "\"";
  const WhyRoom room = room_of_scene(day, row.index, Way::later);
  link.latest = row.time.from + room.room;
  link.causes = room.causes;
  if (crew && link.person == about) link.instead = could_help(day, about, row);
  link.held = room.room == Minutes{0} && !link.instead.valid();
  if (link.person != about) return;
  const Rows rest = day.without(about, row.kind, row.index);
  if (room.room > Minutes{0}) {
    Rows rows = rest;
    insert(
        rows,
        {row.kind, {row.time.from + room.room, row.time.until + room.room}, row.place, row.index});
    found.otherwise.push_back(std::move(rows));
  }
  if (link.instead.valid()) found.otherwise.push_back(rest);
}

std::string text_of(const PlannedDay& day, const WhyLink& link) {
  constexpr std::size_t kMost = 8;
  std::string because;
  for (const std::string& clause : clauses_of(link.causes, kMost)) {
    because += (because.empty() ? "" : "; ") + clause;
  }
  const bool scene = link.kind == WhyEngagement::plays || link.kind == WhyEngagement::crew;
  std::string text;
  if (link.instead.valid()) {
    text = "Not held: " + day.name(link.instead) + " could do it instead.";
    if (link.latest == link.time.from) return text;
    text += " ";
  }
  if (link.latest > link.time.from) {
    text += scene ? "Could be " + minutes_text(link.latest - link.time.from) +
                        " later with its cast and crew"
                  : "Could begin as late as " + day.at(link.latest);
    text += because.empty() ? "." : ", but not after that: " + because + ".";
    return text;
  }
  if (!link.held) return "Could be left out if nothing else came before.";
  return std::string(scene ? "Cannot be later" : "Cannot begin later") +
         (because.empty() ? "." : ": " + because + ".");
}

}  // namespace

LinkFound link_of(const PlannedDay& day, PersonId about, PersonId whose, const Row& row) {
  LinkFound found;
  found.link.kind = row.kind;
  found.link.person = whose;
  found.link.time = row.time;
  found.link.latest = row.time.from;
  switch (row.kind) {
    case WhyEngagement::own_step:
    case WhyEngagement::staffs:
      note_step(day, about, row, found);
      break;
    case WhyEngagement::ready:
      note_ready(day, about, row, found);
      break;
    case WhyEngagement::meal:
      note_meal(day, about, row, found);
      break;
    case WhyEngagement::plays:
    case WhyEngagement::crew:
      note_scene(day, about, row, found);
      break;
  }
  found.link.text = text_of(day, found.link);
  return found;
}

}  // namespace gp::why
