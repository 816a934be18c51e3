#include "bench/general_solver.h"

#include "base/files.h"
#include "bench/machine.h"
#include "model/day_frame.h"
#include "model/engagements.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <set>
#include <sstream>
#include <stdexcept>
#include <tuple>

namespace gp::bench {
namespace {

const DayId kDay{0};

/// One step of one person, in the order of the data.
struct DataStep {
  PersonId wearer;
  LookId look;
  ChainPart part = ChainPart::on;
  int number = 0;  ///< in its chain
  const Step* step = nullptr;
  int next = 0;  ///< from 1; 0: the last of its chain
  std::vector<PersonId> staff;
};

/// The look each person wears; none: as themselves.
std::map<PersonId, LookId> worn(const Production& production) {
  std::map<PersonId, LookId> looks;
  for (const Scene& scene : production.scenes) {
    for (const CastCall& call : scene.cast) {
      const Role& role = production.roles[call.role];
      if (role.look_kind == LookKind::look) looks[role.person] = role.look;
    }
  }
  return looks;
}

std::vector<PersonId> staff_of(const Production& production, const Step& step, PersonId wearer) {
  std::vector<PersonId> found;
  if (step.by.empty()) return found;
  const auto& listed = production.stations[step.at].staff;
  for (const PersonId person : production.people.ids()) {
    const Tags& can = production.people[person].can;
    if (person == wearer || std::find(can.begin(), can.end(), step.by) == can.end()) continue;
    if (listed && std::find(listed->begin(), listed->end(), person) == listed->end()) continue;
    found.push_back(person);
  }
  return found;
}

std::vector<DataStep> steps_of(const Production& production) {
  std::vector<DataStep> steps;
  for (const auto& [wearer, look] : worn(production)) {
    for (const ChainPart part : {ChainPart::on, ChainPart::off}) {
      const Look& chain_of = production.looks[look];
      const auto& chain = part == ChainPart::on ? chain_of.steps : chain_of.off;
      for (std::size_t i = 0; i < chain.size(); ++i) {
        DataStep row;
        row.wearer = wearer;
        row.look = look;
        row.part = part;
        row.number = static_cast<int>(i);
        row.step = &chain[i];
        row.next = i + 1 < chain.size() ? static_cast<int>(steps.size()) + 2 : 0;
        row.staff = staff_of(production, chain[i], wearer);
        steps.push_back(std::move(row));
      }
    }
  }
  return steps;
}

/// `name = [f(row), …];`
template <class Rows, class Text>
std::string list(const std::string& name, const Rows& rows, const Text& text) {
  std::string line = name + " = [";
  bool first = true;
  for (const auto& row : rows) {
    line += (first ? "" : ", ") + text(row);
    first = false;
  }
  return line + "];\n";
}

std::string line(const std::string& name, const std::string& value) {
  return name + " = " + value + ";\n";
}
std::string line(const std::string& name, std::int64_t value) {
  return line(name, std::to_string(value));
}

template <class Ids>
std::string set_of(const Ids& ids) {
  std::string text = "{";
  for (const auto id : ids) text += (text.size() > 1 ? ", " : "") + std::to_string(id.index() + 1);
  return text + "}";
}

std::vector<int> numbers_in(const std::string& text) {
  std::vector<int> numbers;
  std::string digits;
  for (const char letter : text + " ") {
    if (std::string("-0123456789").find(letter) != std::string::npos) {
      digits += letter;
    } else if (!digits.empty()) {
      numbers.push_back(std::stoi(digits));
      digits.clear();
    }
  }
  return numbers;
}

}  // namespace

std::string beyond_model(const Production& production) {
  if (production.days.size() != 1) return "several days";
  if (production.units.size() != 1 || !production.units[UnitId(0)].crew.empty()) return "units";
  const Day& day = production.days[kDay];
  if (!day.meals.empty()) return "meals";
  if (!production.places.empty()) return "places";
  if (!production.items.empty()) return "items";
  if (production.zone != "UTC") return "a zone";  // there the wall clock is the elapsed one
  for (const Person& person : production.people) {
    if (person.free || person.answer != Answer::yes) return "people who are not free all day";
  }
  std::map<PersonId, std::set<LookId>> looks;
  for (const Scene& scene : production.scenes) {
    if (!scene.crew.empty() || !scene.set.empty() || scene.between || scene.at ||
        !scene.after.empty() || scene.light != Light::any) {
      return "what a scene wants";
    }
    for (const CastCall& call : scene.cast) {
      const Role& role = production.roles[call.role];
      if (role.crowd || !role.person.valid()) return "parts that nobody has yet";
      if (role.look_kind == LookKind::any) return "any look";
      looks[role.person].insert(role.look_kind == LookKind::look ? role.look : LookId());
    }
  }
  for (const auto& [person, theirs] : looks) {
    if (theirs.size() > 1) return "changes of look";
  }
  for (const Look& look : production.looks) {
    if (look.holds_for || !look.items.empty()) return "looks that do not hold";
  }
  for (const Station& station : production.stations) {
    if (station.open || station.set_minutes != Minutes{0}) return "stations that open";
  }
  if (production.aim == Aim::latest_first_call && production.scenes.size() != 1) return "the aim";
  return {};
}

std::string model_data(const Production& production) {
  const DayFrame day(production, kDay, {});
  const auto steps = steps_of(production);
  std::int64_t before = production.sign_in.count() + production.round_to.count();
  std::int64_t after = 0;
  for (const DataStep& row : steps) {
    (row.part == ChainPart::on ? before : after) +=
        (row.step->minutes + row.step->then_wait).count();
  }
  std::int64_t filming = 0;
  for (const Scene& scene : production.scenes) {
    filming += (scene.set_minutes + scene.shoot_minutes).count();
  }
  // a best plan leaves no hole in which nothing at all is done
  const std::int64_t opens = count(day.nobody_before);
  const std::int64_t first_shot = count(day.first_shot);
  const std::int64_t earliest = std::max(opens, first_shot - before - filming);
  const std::int64_t closes =
      std::min<std::int64_t>(count(day.wrap_by), first_shot + before + filming + after);
  std::string text =
      line("n_scenes", static_cast<std::int64_t>(production.scenes.size())) +
      line("n_people", static_cast<std::int64_t>(production.people.size())) +
      line("n_steps", static_cast<std::int64_t>(steps.size())) +
      line("n_stations", static_cast<std::int64_t>(production.stations.size())) +
      line("earliest", earliest) + line("opens", opens) + line("first_shot", first_shot) +
      line("closes", closes) + line("latest", closes + after) +
      line("sign_in", production.sign_in.count()) + line("round_to", production.round_to.count()) +
      line("first_call_counts", production.aim == Aim::latest_first_call ? "true" : "false");
  const auto number = [](std::int64_t value) { return std::to_string(value); };
  text += list(
      "set_up", production.scenes, [&](const Scene& s) { return number(s.set_minutes.count()); });
  text += list(
      "shoot", production.scenes, [&](const Scene& s) { return number(s.shoot_minutes.count()); });
  text += list("cast", production.scenes, [&](const Scene& scene) {
    std::set<PersonId> people;
    for (const CastCall& call : scene.cast) people.insert(production.roles[call.role].person);
    return set_of(people);
  });
  text += list("weight", production.people, [&](const Person& p) { return number(p.weight); });
  text += list("wearer", steps, [&](const DataStep& k) {
    return number(static_cast<std::int64_t>(k.wearer.index()) + 1);
  });
  text += list("station", steps, [&](const DataStep& k) {
    return number(static_cast<std::int64_t>(k.step->at.index()) + 1);
  });
  text +=
      list("minutes", steps, [&](const DataStep& k) { return number(k.step->minutes.count()); });
  text += list("wait", steps, [&](const DataStep& k) { return number(k.step->then_wait.count()); });
  text += list("puts_on", steps, [](const DataStep& k) {
    return std::string(k.part == ChainPart::on ? "true" : "false");
  });
  text += list("next", steps, [&](const DataStep& k) { return number(k.next); });
  text += list("staff", steps, [](const DataStep& k) { return set_of(k.staff); });
  text += list("places", production.stations, [&](const Station& m) { return number(m.places); });
  return text;
}

std::optional<SolverAnswer> last_answer(const std::string& printed) {
  std::optional<SolverAnswer> best;
  SolverAnswer now;
  std::istringstream lines(printed);
  for (std::string text; std::getline(lines, text);) {
    if (text.starts_with("shot ")) now.shot = numbers_in(text);
    if (text.starts_with("begin ")) now.begin = numbers_in(text);
    if (text.starts_with("by ")) now.by = numbers_in(text);
    if (text.starts_with("----------")) best = now;  // the mark after each whole answer
  }
  return best;
}

Plan plan_of_answer(const Production& production, const SolverAnswer& answer) {
  Plan plan;
  plan.title = production.title;
  DayPlan day;
  day.day = kDay;
  for (const SceneId id : production.scenes.ids()) {
    const Scene& scene = production.scenes[id];
    PlannedScene planned;
    planned.scene = id;
    planned.unit = scene.unit;
    planned.shoot_at = minute(answer.shot.at(id.index()));
    planned.set_at = planned.shoot_at - scene.set_minutes;
    planned.until = planned.shoot_at + scene.shoot_minutes;
    for (const CastCall& call : scene.cast) {
      planned.cast.push_back({call.role, {production.roles[call.role].person}});
    }
    day.first_shot = std::min(day.first_shot.value_or(kNever), planned.shoot_at);
    day.wrap = std::max(day.wrap.value_or(kAlwaysBefore), planned.until);
    day.scenes.push_back(std::move(planned));
  }
  const auto steps = steps_of(production);
  std::map<PersonId, Wear> wears;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    PlannedStep step;
    step.person = steps[k].wearer;
    step.look = steps[k].look;
    step.part = steps[k].part;
    step.step = steps[k].number;
    step.station = steps[k].step->at;
    step.from = minute(answer.begin.at(k));
    step.until = step.from + steps[k].step->minutes;
    if (answer.by.at(k) > 0) step.by = PersonId(static_cast<std::size_t>(answer.by[k] - 1));
    day.steps.push_back(step);
  }
  std::sort(day.steps.begin(), day.steps.end(), [](const PlannedStep& a, const PlannedStep& b) {
    return std::tie(a.from, a.person) < std::tie(b.from, b.person);
  });
  // the first place that is free: as many as are ever taken at once are enough
  std::map<StationId, std::vector<Minute>> taken_until;
  for (PlannedStep& step : day.steps) {
    auto& places = taken_until[step.station];
    std::size_t place = 0;
    while (place < places.size() && places[place] > step.from) ++place;
    if (place == places.size()) places.push_back(step.until);
    places[place] = step.until;
    step.place = static_cast<int>(place) + 1;
  }
  for (const auto& [person, look] : worn(production)) {
    Wear wear;
    wear.person = person;
    wear.look = look;
    wear.from = kNever;
    wear.until = kAlwaysBefore;
    const auto stretch = [&wear](Minute from, Minute until) {
      wear.from = std::min(wear.from, from);
      wear.until = std::max(wear.until, until);
    };
    for (const PlannedStep& step : day.steps) {
      if (step.person == person) stretch(step.from, step.until);
    }
    for (const PlannedScene& scene : day.scenes) {
      for (const CastEntry& entry : scene.cast) {
        if (entry.people[0] == person) stretch(scene.shoot_at, scene.until);
      }
    }
    day.wears.push_back(wear);
  }
  std::sort(day.wears.begin(), day.wears.end(), [](const Wear& a, const Wear& b) {
    return std::tie(a.from, a.person) < std::tie(b.from, b.person);
  });
  std::sort(day.scenes.begin(), day.scenes.end(), [](const PlannedScene& a, const PlannedScene& b) {
    return std::tie(a.set_at, a.scene) < std::tie(b.set_at, b.scene);
  });
  const DayFrame frame(production, kDay, {});
  for (const auto& [person, rows] : engagements(production, day)) {
    Stay stay;
    stay.person = person;
    stay.released = kAlwaysBefore;
    for (const BusyRow& row : rows) {
      stay.released = std::max(stay.released, row.time.until);
      stay.busy += row.time.length();
    }
    stay.call =
        frame.call_for(rows.front().time.from, production.sign_in).value_or(frame.nobody_before);
    stay.on_site = stay.released - stay.call;
    stay.waiting = stay.on_site - stay.busy;
    day.people.push_back(stay);
    plan.totals.on_site += stay.on_site.count();
    plan.totals.weighted_on_site += stay.on_site.count() * production.people[person].weight;
    plan.totals.waiting += stay.waiting.count();
  }
  std::sort(day.people.begin(), day.people.end(), [](const Stay& a, const Stay& b) {
    return std::tie(a.call, a.person) < std::tie(b.call, b.person);
  });
  plan.days.push_back(std::move(day));
  return plan;
}

std::optional<std::string> solver_name() {
  const Output version = output_of("minizinc --version 2>/dev/null");
  const Output solvers = output_of("minizinc --solvers 2>/dev/null");
  if (version.status != 0) return std::nullopt;
  const std::size_t gecode = solvers.text.find("Gecode ");
  const std::size_t number = version.text.find("version ");
  if (gecode == std::string::npos || number == std::string::npos) return std::nullopt;
  return "Gecode " +
         solvers.text.substr(gecode + 7, solvers.text.find(' ', gecode + 7) - gecode - 7) +
         " through MiniZinc " +
         version.text.substr(number + 8, version.text.find_first_of(",\n", number) - number - 8);
}

Solved solve_generally(const Production& production,
                       const std::string& folder,
                       double seconds,
                       bool restarts) {
  const std::string data = folder + (restarts ? "/restarts.dzn" : "/through.dzn");
  Disk().write(data, model_data(production));
  const auto milliseconds = std::to_string(std::llround(seconds * 1000));
  const auto start = std::chrono::steady_clock::now();
  const Output printed = output_of(
      "minizinc --solver gecode -a --solver-time-limit " + milliseconds +
      (restarts ? " --fzn-flags '-restart geometric -restart-scale 500 -nogoods true'" : "") +
      " '" GP_SOURCE_DIR "/tests/bench/solver/day.mzn' '" + data + "' 2>&1");
  Solved solved;
  solved.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  // after all answers: there is no better one
  solved.exhausted = printed.text.find("\n==========\n") != std::string::npos;
  if (const auto answer = last_answer(printed.text)) {
    solved.plan = plan_of_answer(production, *answer);
  } else if (printed.text.find("=====UNKNOWN=====") == std::string::npos) {
    // nothing found is an answer; a model not understood is our mistake, not the solver's defeat
    throw std::runtime_error("the solver gave no answer: " + printed.text.substr(0, 2000));
  }
  return solved;
}

}  // namespace gp::bench
