#include "search/sketch/sketch_ground.h"

#include <algorithm>
#include <limits>
#include <map>
#include <string>

namespace gp {
namespace {

using Int = SketchGround::Int;

Int index_of(PlaceId place) {
  return place.valid() ? static_cast<Int>(place.index()) + 1 : 0;
}

SketchGround::Window window(Span span) {
  return {count(span.from), count(span.until)};
}

SketchGround::Chain chain_of(const Problem& problem, const DayFrame& frame, LookId look, bool off) {
  const auto& spec = problem.production.looks[look];
  const auto& steps = off ? spec.off : spec.steps;
  SketchGround::Chain chain;
  if (steps.empty()) return chain;
  chain.first = index_of(frame.station_place[steps.front().at]);
  chain.last = index_of(frame.station_place[steps.back().at]);
  chain.wait = count(steps.back().then_wait);
  chain.minutes = count(whole_minutes(steps)) - chain.wait;
  double slowest = -1;
  for (std::size_t k = 0; k < steps.size(); ++k) {
    const auto& staff = problem.staff.of(look, off, k);
    Int places = problem.production.stations[steps[k].at].places;
    if (!steps[k].by.empty())
      places = std::min(places, std::max(1, static_cast<Int>(staff.size())));
    const double each = static_cast<double>(count(steps[k].minutes)) / places;
    // whoever helps is kept there: such a step counts before a slower one that needs nobody
    const bool helped = !staff.empty();
    if (!chain.staff.empty() && !helped) continue;
    if (each <= slowest && (chain.staff.empty() == !helped)) continue;
    slowest = each;
    chain.station = static_cast<Int>(steps[k].at.index());
    chain.step = count(steps[k].minutes);
    chain.places = places;
    chain.staff.clear();
    for (const PersonId who : staff) chain.staff.push_back(static_cast<Int>(who.index()));
  }
  return chain;
}

}  // namespace

SketchGround::SketchGround(const Problem& asked) : problem(asked) {
  const Production& film = problem.production;
  sign_in = count(film.sign_in);
  round_to = std::max(1, count(film.round_to));
  places = film.places.size() + 1;
  ways.assign(places * places, 0);
  for (const PlaceId a : film.places.ids()) {
    for (const PlaceId b : film.places.ids()) {
      ways[(a.index() + 1) * places + b.index() + 1] = count(film.way(a, b));
    }
  }
  for (const Person& person : film.people) weight.push_back(person.weight);
  for (const Look& look : film.looks) {
    Int most = std::numeric_limits<Int>::max();
    for (const ItemId item : look.items) {
      Int count = film.items[item].count;
      for (const ItemId other : film.items[item].instead) count += film.items[other].count;
      most = std::min(most, count);
    }
    wearers.push_back(most);
  }
  for (const Station& station : film.stations) set_up_minutes.push_back(count(station.set_minutes));
  Int slots_before = 0;
  part_heads.resize(film.roles.size());
  std::map<std::string, Int> sets;
  for (const SceneId id : film.scenes.ids()) {
    const gp::Scene& spec = film.scenes[id];
    Scene scene;
    scene.unit = static_cast<Int>(spec.unit.index());
    if (!spec.set.empty()) {
      scene.set = sets.try_emplace(spec.set, static_cast<Int>(sets.size())).first->second;
    }
    scene.set_minutes = count(spec.set_minutes);
    scene.reset_minutes = count(spec.reset_minutes);
    scene.shoot_minutes = count(spec.shoot_minutes);
    for (const SceneId before : spec.after) scene.after.push_back(static_cast<Int>(before.index()));
    for (std::size_t d = 0; d < problem.days.size(); ++d) {
      scene.place.push_back(index_of(problem.days[d].scene_place[id]));
      auto& windows = scene.windows.emplace_back();
      for (const Span& span : problem.windows[d][id]) windows.push_back(window(span));
    }
    scene.first_head = static_cast<Int>(heads.size());
    const auto& slots = problem.slots.of(id);
    for (std::size_t s = 0; s < slots.size(); ++s) {
      Head head;
      head.scene = static_cast<Int>(id.index());
      head.slot = static_cast<Int>(s);
      head.crew = slots[s].kind == Slot::Kind::crew;
      if (!head.crew) {
        const Role& role = film.roles[slots[s].role];
        if (role.look_kind == LookKind::themselves) head.look = kNoLook;
        if (role.look_kind == LookKind::look) head.look = static_cast<Int>(role.look.index());
        if (slots[s].kind == Slot::Kind::part) head.role = static_cast<Int>(slots[s].role.index());
      }
      may_fill.resize(may_fill.size() + weight.size(), 0);
      for (const PersonId who : slots[s].candidates) {
        may_fill[static_cast<std::size_t>(slots_before) * weight.size() + who.index()] = 1;
      }
      for (int k = 0; k < slots[s].people; ++k) {
        if (head.role >= 0) {
          part_heads[static_cast<std::size_t>(head.role)].push_back(static_cast<Int>(heads.size()));
        }
        heads.push_back(head);
        slot_of.push_back(slots_before);
      }
      ++slots_before;
    }
    scene.heads = static_cast<Int>(heads.size()) - scene.first_head;
    scenes.push_back(std::move(scene));
  }
  for (const DayFrame& frame : problem.days) {
    Day day;
    day.base = index_of(frame.base);
    day.first_shot = count(frame.first_shot);
    for (const PersonId who : film.people.ids()) {
      auto& free = day.free.emplace_back();
      for (const Span& span : frame.free[who]) free.push_back(window(span));
    }
    for (const LookId look : film.looks.ids()) {
      day.on.push_back(chain_of(problem, frame, look, false));
      day.off.push_back(chain_of(problem, frame, look, true));
    }
    for (const MealFrame& meal : frame.meals) {
      day.meals.push_back({meal.together, count(meal.minutes), window(meal.between)});
    }
    days.push_back(std::move(day));
    auto& stations = station_place.emplace_back();
    for (const StationId station : film.stations.ids()) {
      stations.push_back(index_of(frame.station_place[station]));
    }
  }
}

}  // namespace gp
