#include "explain/why/why_day.h"

#include "model/engagements.h"
#include "time/clock.h"

#include <algorithm>
#include <tuple>

namespace gp::why {
namespace {

bool before(const Row& a, const Row& b) {
  return std::tie(a.time.from, a.time.until) < std::tie(b.time.from, b.time.until);
}

bool holds(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

/// Minutes of the gap that rows without a place take.
Minutes taken_in(const Rows& rows, Span gap) {
  Minutes taken{0};
  for (const Row& row : rows) {
    if (row.place.valid() || !row.time.overlaps(gap)) continue;
    taken += std::min(row.time.until, gap.until) - std::max(row.time.from, gap.from);
  }
  return taken;
}

}  // namespace

void insert(Rows& rows, const Row& row) {
  rows.insert(std::upper_bound(rows.begin(), rows.end(), row, before), row);
}

std::string listed(const std::vector<std::string>& parts, std::size_t most) {
  std::string text;
  const bool cut = parts.size() > most + 1;
  const std::size_t shown = cut ? most : parts.size();
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) text += !cut && i + 1 == shown ? " and " : ", ";
    text += parts[i];
  }
  if (cut) text += " and " + std::to_string(parts.size() - shown) + " more";
  return text;
}

std::string minutes_text(Minutes length) {
  return length == Minutes{1} ? "one minute" : std::to_string(length.count()) + " minutes";
}

std::vector<std::string> clauses_of(const std::vector<WhyCause>& causes, std::size_t most) {
  struct Clause {
    std::string text;
    SceneId scene;
    bool of_person = false;
    std::size_t others = 0;  ///< people that the same scene holds besides
  };
  std::vector<Clause> found;
  for (const WhyCause& cause : causes) {
    const bool of_scene = cause.scene.valid() && cause.person.valid();
    const auto same = std::find_if(found.begin(), found.end(), [&](const Clause& other) {
      return of_scene && other.scene == cause.scene;
    });
    if (same == found.end()) {
      found.push_back({cause.text, cause.scene, of_scene});
    } else {
      ++same->others;
    }
  }
  std::vector<std::string> clauses;
  const std::size_t shown = found.size() > most + 1 ? most : found.size();
  for (std::size_t i = 0; i < shown; ++i) {
    const std::size_t others = found[i].others;
    clauses.push_back(found[i].text);
    if (others == 0) continue;
    const std::string number = others == 1 ? "one" : std::to_string(others);
    if (found[i].of_person) {
      clauses.back() += others == 1 ? " (and one other too)" : " (and " + number + " others too)";
    } else {
      clauses.back() +=
          " (" + number + " of its people " + (others == 1 ? "goes" : "go") + " there)";
    }
  }
  if (shown < found.size()) {
    clauses.push_back("and " + std::to_string(found.size() - shown) + " more reasons");
  }
  return clauses;
}

PlannedDay::PlannedDay(const Production& the_film,
                       const Plan& the_plan,
                       std::size_t number,
                       Answers the_answers)
    : film(the_film),
      plan(the_plan),
      day(the_plan.days[number]),
      answers(the_answers),
      frame(the_film, day.day, the_answers) {
  const auto add =
      [this](PersonId who, WhyEngagement kind, Span time, PlaceId place, std::size_t index) {
        rows_[who].push_back({kind, time, place, index});
      };
  for (std::size_t i = 0; i < day.scenes.size(); ++i) {
    const PlannedScene& scene = day.scenes[i];
    const PlaceId place = frame.scene_place[scene.scene];
    for (const CastEntry& entry : scene.cast) {
      for (const PersonId who : entry.people) {
        add(who, WhyEngagement::plays, {scene.shoot_at, scene.until}, place, i);
      }
    }
    for (const CrewEntry& entry : scene.crew) {
      for (const PersonId who : entry.people) {
        add(who, WhyEngagement::crew, {scene.set_at, scene.until}, place, i);
      }
    }
  }
  for (std::size_t i = 0; i < day.steps.size(); ++i) {
    const PlannedStep& step = day.steps[i];
    const PlaceId place = frame.station_place[step.station];
    add(step.person, WhyEngagement::own_step, {step.from, step.until}, place, i);
    if (step.by.valid()) add(step.by, WhyEngagement::staffs, {step.from, step.until}, place, i);
  }
  for (std::size_t i = 0; i < day.ready.size(); ++i) {
    const Ready& ready = day.ready[i];
    add(ready.person,
        WhyEngagement::ready,
        {ready.from, ready.until},
        frame.station_place[ready.station],
        i);
  }
  for (std::size_t i = 0; i < day.meals.size(); ++i) {
    const PlannedMeal& meal = day.meals[i];
    for (const PersonId who : meal.people) {
      add(who, WhyEngagement::meal, {meal.from, meal.until}, PlaceId(), i);
    }
  }
  for (auto& [who, rows] : rows_) std::stable_sort(rows.begin(), rows.end(), before);
}

const Rows& PlannedDay::rows(PersonId person) const {
  const auto found = rows_.find(person);
  return found == rows_.end() ? none_ : found->second;
}

Rows PlannedDay::without(PersonId person, WhyEngagement kind, std::size_t index) const {
  Rows left;
  for (const Row& row : rows(person)) {
    if (row.kind != kind || row.index != index) left.push_back(row);
  }
  return left;
}

Rows PlannedDay::freed_of(PersonId helper, std::size_t step) const {
  Rows left = without(helper, WhyEngagement::staffs, step);
  const StationId station = day.steps[step].station;
  const bool others = std::any_of(left.begin(), left.end(), [&](const Row& row) {
    return row.kind == WhyEngagement::staffs && day.steps[row.index].station == station;
  });
  if (others) return left;
  Rows freed;
  for (const Row& row : left) {
    if (row.kind != WhyEngagement::ready || day.ready[row.index].station != station) {
      freed.push_back(row);
    }
  }
  return freed;
}

const Stay* PlannedDay::stay(PersonId person) const {
  for (const Stay& stay : day.people) {
    if (stay.person == person) return &stay;
  }
  return nullptr;
}

StepFrame PlannedDay::frame_of(std::size_t index) const {
  StepFrame found;
  const PlannedStep& step = day.steps[index];
  found.step = &step;
  found.written = written_step(film, step);
  for (const Wear& wear : day.wears) {
    if (wear.person == step.person && wear.look == step.look && wear.from <= step.from &&
        step.until <= wear.until) {
      found.wear = &wear;
    }
  }
  if (found.wear == nullptr) return found;
  for (const PlannedStep& other : day.steps) {
    if (other.person != step.person || other.look != step.look || other.part != step.part ||
        other.from < found.wear->from || other.until > found.wear->until) {
      continue;
    }
    if (other.step == step.step - 1) found.before = &other;
    if (other.step == step.step + 1) found.next = &other;
  }
  for (const PlannedScene& scene : day.scenes) {
    if (scene.shoot_at < found.wear->from || scene.until > found.wear->until) continue;
    for (const CastEntry& entry : scene.cast) {
      const Role& role = film.roles[entry.role];
      if (role.look_kind != LookKind::look || role.look != step.look ||
          std::find(entry.people.begin(), entry.people.end(), step.person) == entry.people.end()) {
        continue;
      }
      if (found.first == nullptr || scene.shoot_at < found.first->shoot_at) found.first = &scene;
      if (found.last == nullptr || scene.until > found.last->until) found.last = &scene;
    }
  }
  return found;
}

std::optional<Row> PlannedDay::in_the_way(const Rows& rows, Span time, PlaceId place) const {
  const Row* last = nullptr;  // the last one somewhere before it
  const Row* next = nullptr;
  for (const Row& row : rows) {
    if (row.time.from < time.until && time.from < row.time.until) return row;
    if (!row.place.valid()) continue;
    if (row.time.until <= time.from) {
      if (last == nullptr || row.time.until >= last->time.until) last = &row;
    } else if (next == nullptr || row.time.from < next->time.from) {
      next = &row;
    }
  }
  // a way may be written differently at its two ends: it counts from where it begins
  const auto too_near = [&](Span gap, PlaceId from, PlaceId to) {
    return gap.length() - taken_in(rows, gap) < film.way(from, to);
  };
  if (!place.valid()) {  // a meal takes from the way between what lies around it
    if (last != nullptr && next != nullptr) {
      const Span gap{last->time.until, next->time.from};
      if (gap.length() - taken_in(rows, gap) - time.length() < film.way(last->place, next->place)) {
        return *next;
      }
    }
    return std::nullopt;
  }
  if (last != nullptr && too_near({last->time.until, time.from}, last->place, place)) return *last;
  if (next != nullptr && too_near({time.until, next->time.from}, place, next->place)) return *next;
  return std::nullopt;
}

bool PlannedDay::consistent(const Rows& rows) const {
  const Row* last = nullptr;  // the last one somewhere
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (i > 0 && rows[i].time.from < rows[i - 1].time.until) return false;
    if (!rows[i].place.valid()) continue;
    if (last != nullptr) {
      const Span gap{last->time.until, rows[i].time.from};
      if (gap.length() - taken_in(rows, gap) < film.way(last->place, rows[i].place)) return false;
    }
    last = &rows[i];
  }
  return true;
}

std::optional<Minute> PlannedDay::call_of(const Rows& rows) const {
  if (rows.empty()) return std::nullopt;
  PlaceId first;
  for (const Row& row : rows) {
    if (!first.valid()) first = row.place;
  }
  return frame.call_for(rows.front().time.from, film.sign_in + film.way(frame.base, first));
}

bool PlannedDay::stays_within(PersonId person, const Rows& rows) const {
  if (rows.empty()) return true;
  const Stay* now = stay(person);
  const auto call = call_of(rows);
  if (now == nullptr || !call || *call < now->call) return false;
  return std::all_of(
      rows.begin(), rows.end(), [&](const Row& row) { return row.time.until <= now->released; });
}

bool PlannedDay::able(PersonId helper, const PlannedStep& step, const Step& written) const {
  const Person& person = film.people[helper];
  if (helper == step.person || !answers.include(person.answer) || !holds(person.can, written.by)) {
    return false;
  }
  const auto& staff = film.stations[step.station].staff;
  return !staff || std::find(staff->begin(), staff->end(), helper) != staff->end();
}

std::optional<Minute> PlannedDay::ready_from(PersonId person, StationId station) const {
  for (const Ready& row : day.ready) {
    if (row.person == person && row.station == station) return row.until;
  }
  return std::nullopt;
}

bool PlannedDay::runs_out(
    ItemId item, int count, Span time, const Wear* but_wear, const PlannedScene* but_scene) const {
  struct Use {
    Span time;
    int count;
  };
  std::vector<Use> uses;
  for (const PlannedScene& scene : day.scenes) {
    if (&scene == but_scene) continue;
    for (const Prop& prop : film.scenes[scene.scene].props) {
      if (prop.item == item) uses.push_back({{scene.set_at, scene.until}, prop.count});
    }
  }
  for (const Wear& wear : day.wears) {
    if (&wear == but_wear) continue;
    for (const ItemId worn : wear.items) {
      if (worn == item) uses.push_back({{wear.from, wear.until}, 1});
    }
  }
  // use only rises where one begins: those moments and the span's own beginning are enough
  const auto used_at = [&](Minute moment) {
    int used = count;
    for (const Use& use : uses) {
      if (use.time.from <= moment && moment < use.time.until) used += use.count;
    }
    return used;
  };
  if (time.from >= time.until) return false;
  const int there = film.items[item].count;
  if (used_at(time.from) > there) return true;
  return std::any_of(uses.begin(), uses.end(), [&](const Use& use) {
    return time.from < use.time.from && use.time.from < time.until &&
           used_at(use.time.from) > there;
  });
}

std::string PlannedDay::at(Minute moment) const {
  return format(frame.clock.shown(moment));
}

std::string PlannedDay::span(Span time) const {
  return at(time.from) + "-" + at(time.until);
}

std::string PlannedDay::what(const Row& row, PersonId whose) const {
  switch (row.kind) {
    case WhyEngagement::plays:
      return "films \"" + film.scenes[day.scenes[row.index].scene].shown() + "\"";
    case WhyEngagement::crew:
      return "helps with \"" + film.scenes[day.scenes[row.index].scene].shown() + "\"";
    case WhyEngagement::own_step:
      return "is at " + film.stations[day.steps[row.index].station].shown();
    case WhyEngagement::staffs:
      return "sees to " + (day.steps[row.index].person == whose
                               ? "themselves"
                               : name(day.steps[row.index].person));
    case WhyEngagement::ready:
      return "gets " + film.stations[day.ready[row.index].station].shown() + " ready";
    case WhyEngagement::meal:
      return "eats (" + day.meals[row.index].meal + ")";
  }
  return "";
}

}  // namespace gp::why
