#include "casting/film_cast.h"

#include "casting/cast_costs.h"
#include "model/friends.h"
#include "model/tags.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <optional>
#include <set>
#include <tuple>

namespace gp {
namespace {

constexpr std::size_t kMostStarts = 120;  ///< looked at, of one scene and day
constexpr std::size_t kMostOpenings = 8;  ///< kept, of one scene

std::int32_t wish_of(const Person& person, const std::string& what, const Tags& needs) {
  std::int32_t cost = 0;
  if (has(person.can, what) && !has(needs, what)) cost -= points::kExperienced;
  if (has(person.likes, what)) cost -= points::kLiked;
  if (person.answer == Answer::maybe) cost += points::kMaybe;
  if (person.answer == Answer::asked) cost += points::kAsked;
  return cost;
}

/// The first `most` of the list, evenly spread where there are more.
std::vector<Minute> thinned(std::vector<Minute> list, std::size_t most) {
  std::sort(list.begin(), list.end());
  list.erase(std::unique(list.begin(), list.end()), list.end());
  if (list.size() <= most) return list;
  std::vector<Minute> some;
  for (std::size_t i = 0; i < most; ++i) some.push_back(list[i * (list.size() - 1) / (most - 1)]);
  return some;
}

struct FixedMoment {
  std::size_t day = 0;
  Span shot;
};

}  // namespace

FilmCast::FilmCast(const Production& production, Answers answers, const CastDays& days)
    : production_(production), days_(days), slots_(production, answers) {
  problem_.people = static_cast<int>(production.people.size());
  add_people();
  for (const SceneId id : production.scenes.ids()) add_scene(id);
  add_groups();
  add_parts();
}

Minutes FilmCast::look_time(const std::vector<Step>& chain,
                            PlaceId from,
                            PlaceId to,
                            std::size_t day) const {
  Minutes sum{0};
  PlaceId at = from;
  for (const Step& step : chain) {
    const PlaceId place = days_.frames[day].station_place[step.at];
    sum += production_.way(at, place) + step.minutes + step.then_wait;
    at = place;
  }
  return sum + (to.valid() ? production_.way(at, to) : Minutes{0});
}

Span FilmCast::needed(SceneId id, const Slot& slot, std::size_t day, Minute shot) const {
  const Scene& scene = production_.scenes[id];
  const DayFrame& frame = days_.frames[day];
  const PlaceId place = frame.scene_place[id];
  const Role* const role = slot.kind == Slot::Kind::crew ? nullptr : &production_.roles[slot.role];
  Minutes before = production_.sign_in;
  Minutes after{0};
  Minute first = shot;
  if (role == nullptr) first -= scene.set_minutes;
  if (role != nullptr && role->look_kind == LookKind::look) {
    const Look& look = production_.looks[role->look];
    before += look_time(look.steps, frame.base, place, day);
    after = look_time(look.off, place, PlaceId(), day);
  } else {
    before += production_.way(frame.base, place);
  }
  const Minute call = frame.call_for(first, before).value_or(first - before);
  return {call, shot + scene.shoot_minutes + after};
}

bool FilmCast::can_be(
    PersonId who, SceneId scene, const Slot& slot, std::size_t day, Minute shot) const {
  const Span stay = needed(scene, slot, day, shot);
  const auto& free = days_.frames[day].free[who];
  return std::any_of(free.begin(), free.end(), [&](const Span& span) { return span.covers(stay); });
}

std::vector<Minute> FilmCast::starts(SceneId id, std::size_t day) const {
  const Scene& scene = production_.scenes[id];
  const DayFrame& frame = days_.frames[day];
  std::vector<Span> windows = days_.windows[day][id];
  for (Span& window : windows) {
    window.from = std::max(window.from, frame.nobody_before + scene.set_minutes);
  }
  std::set<Span, bool (*)(const Span&, const Span&)> spans([](const Span& a, const Span& b) {
    return std::tie(a.from, a.until) < std::tie(b.from, b.until);
  });
  for (const PersonId person : production_.people.ids()) {
    spans.insert(frame.free[person].begin(), frame.free[person].end());
  }
  std::vector<Minute> list;
  for (const Span& window : windows) {
    const Minute last = window.until - scene.shoot_minutes;
    if (last < window.from) continue;
    const auto add = [&](Minute at) {
      if (window.from <= at && at <= last) list.push_back(at);
    };
    add(window.from);
    add(last);
    for (const Slot& slot : slots_.of(id)) {
      // what the place needs, told at one moment, is as long at every other but for the rounding
      const Span stay = needed(id, slot, day, window.from);
      for (const Span& span : spans) {
        Minute early = window.from + (span.from - stay.from);
        early += (production_.round_to);  // a call on a round minute
        add(early);
        add(early - production_.round_to);
        add(window.from + (span.until - stay.until));
      }
    }
  }
  return thinned(std::move(list), kMostStarts);
}

void FilmCast::find_openings(SceneId id) {
  CastProblem::Scene& scene = problem_.scenes[id.index()];
  const std::vector<Slot>& slots = slots_.of(id);
  struct Ranked {
    std::int64_t lost = 0;
    std::int64_t choice = 0;
    CastProblem::Opening opening;
  };
  std::vector<Ranked> ranked;
  std::set<std::vector<std::vector<int>>> known;
  for (std::size_t day = 0; day < days_.frames.size(); ++day) {
    for (const Minute start : starts(id, day)) {
      Ranked it;
      it.opening.day = static_cast<int>(day);
      it.opening.start = count(start);
      for (std::size_t k = 0; k < slots.size(); ++k) {
        std::vector<int> may;
        const Span stay = needed(id, slots[k], day, start);
        for (const PersonId who : slots[k].candidates) {
          const auto& free = days_.frames[day].free[who];
          if (std::any_of(
                  free.begin(), free.end(), [&](const Span& span) { return span.covers(stay); })) {
            may.push_back(static_cast<int>(who.index()));
          }
        }
        std::sort(may.begin(), may.end());
        const std::int64_t missing = slots[k].people - static_cast<std::int64_t>(may.size());
        it.lost += std::max<std::int64_t>(0, missing) * scene.places[k].missing;
        it.choice += static_cast<std::int64_t>(may.size());
        it.opening.candidates.push_back(std::move(may));
      }
      if (!known.insert(it.opening.candidates).second) continue;
      ranked.push_back(std::move(it));
    }
  }
  std::stable_sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) {
    return a.lost != b.lost ? a.lost < b.lost : a.choice > b.choice;
  });
  const auto within = [](const CastProblem::Opening& inner, const CastProblem::Opening& outer) {
    for (std::size_t k = 0; k < inner.candidates.size(); ++k) {
      if (!std::includes(outer.candidates[k].begin(),
                         outer.candidates[k].end(),
                         inner.candidates[k].begin(),
                         inner.candidates[k].end())) {
        return false;
      }
    }
    return true;
  };
  for (Ranked& it : ranked) {
    if (scene.openings.size() == kMostOpenings) break;
    const bool no_more = std::any_of(scene.openings.begin(),
                                     scene.openings.end(),
                                     [&](const auto& kept) { return within(it.opening, kept); });
    if (!no_more) scene.openings.push_back(std::move(it.opening));
  }
  if (scene.openings.empty()) {  // it cannot stand anywhere: nobody can be there
    CastProblem::Opening none;
    none.day = -1;
    none.candidates.assign(slots.size(), {});
    scene.openings.push_back(std::move(none));
  }
}

void FilmCast::add_people() {
  for (const PersonId id : production_.people.ids()) {
    const Person& person = production_.people[id];
    problem_.burden.push_back(
        static_cast<std::int32_t>((points::kBurden * person.weight + 500) / 1000));
  }
  for (const auto& friends : friends_of_all(production_)) {
    auto& numbers = problem_.friends.emplace_back();
    for (const PersonId other : friends) numbers.push_back(static_cast<int>(other.index()));
  }
  problem_.friend_worth = points::kFriend;
}

void FilmCast::add_scene(SceneId id) {
  const Scene& written = production_.scenes[id];
  const auto crew = production_.crew_of(id);
  CastProblem::Scene scene;
  for (const Slot& slot : slots_.of(id)) {
    CastProblem::Places places;
    places.people = slot.people;
    places.missing = points::kEmptyPlace;
    const Role* role = nullptr;
    if (slot.kind == Slot::Kind::crew) {
      const CrewCall& call = crew[slot.call];
      for (const PersonId who : production_.people.ids()) {
        places.wish.push_back(wish_of(production_.people[who], call.job, call.needs));
      }
    } else {
      role = &production_.roles[slot.role];
      for (const PersonId who : production_.people.ids()) {
        places.wish.push_back(wish_of(production_.people[who], role->id, role->needs));
      }
    }
    if (slot.kind == Slot::Kind::part) {
      places.part = static_cast<int>(slot.role.index());
      places.people = 1;
      places.missing =
          points::kEmptyPlace * (points::kPartsHeads + points::kPartsHeads * written.worth / 1000);
    }
    scene.places.push_back(std::move(places));
  }
  problem_.scenes.push_back(std::move(scene));
  find_openings(id);
}

void FilmCast::add_groups() {
  const std::size_t n = problem_.scenes.size();
  std::vector<std::optional<FixedMoment>> fixed(n);
  for (const SceneId id : production_.scenes.ids()) {
    std::size_t found = 0;
    FixedMoment moment;
    for (std::size_t day = 0; day < days_.frames.size(); ++day) {
      for (const Span& window : days_.windows[day][id]) {
        ++found;
        moment = {day, window};
      }
    }
    if (found == 1 && moment.shot.length() == production_.scenes[id].shoot_minutes) {
      fixed[id.index()] = moment;
    }
  }
  std::vector<std::size_t> head(n);
  std::iota(head.begin(), head.end(), std::size_t{0});
  const auto find = [&](std::size_t s) {
    while (head[s] != s) s = head[s] = head[head[s]];
    return s;
  };
  problem_.parts.assign(production_.roles.size(), {});
  for (std::size_t a = 0; a < n; ++a) {
    for (std::size_t b = a + 1; b < n; ++b) {
      if (!fixed[a] || !fixed[b] || fixed[a]->day != fixed[b]->day) continue;
      const std::size_t first = fixed[a]->shot.from <= fixed[b]->shot.from ? a : b;
      const std::size_t second = first == a ? b : a;
      const std::size_t day = fixed[a]->day;
      const DayFrame& frame = days_.frames[day];
      const PlaceId from = frame.scene_place[SceneId(first)];
      const PlaceId to = frame.scene_place[SceneId(second)];
      const Minutes between = fixed[second]->shot.from - fixed[first]->shot.until;
      if (fixed[first]->shot.overlaps(fixed[second]->shot) || between < production_.way(from, to)) {
        head[find(a)] = find(b);
        continue;
      }
      for (const CastCall& one : production_.scenes[SceneId(first)].cast) {
        for (const CastCall& two : production_.scenes[SceneId(second)].cast) {
          const Role& left = production_.roles[one.role];
          const Role& right = production_.roles[two.role];
          if (left.crowd || right.crowd || one.role == two.role) continue;
          if (left.look_kind == LookKind::any || right.look_kind == LookKind::any) continue;
          if (left.look == right.look) continue;
          std::vector<Step> steps;
          if (left.look.valid()) steps = production_.looks[left.look].off;
          if (right.look.valid()) {
            const auto& on = production_.looks[right.look].steps;
            steps.insert(steps.end(), on.begin(), on.end());
          }
          if (between >= look_time(steps, from, to, day)) continue;
          problem_.parts[one.role.index()].apart.push_back(static_cast<int>(two.role.index()));
          problem_.parts[two.role.index()].apart.push_back(static_cast<int>(one.role.index()));
        }
      }
    }
  }
  std::map<std::size_t, int> number;
  for (std::size_t s = 0; s < n; ++s) {
    problem_.scenes[s].group = number.try_emplace(find(s), problem_.groups).first->second;
    if (problem_.scenes[s].group == problem_.groups) ++problem_.groups;
  }
}

void FilmCast::add_parts() {
  std::vector<std::set<int>> parts_in(static_cast<std::size_t>(problem_.groups));
  for (std::size_t s = 0; s < problem_.scenes.size(); ++s) {
    const auto& scene = problem_.scenes[s];
    for (std::size_t k = 0; k < scene.places.size(); ++k) {
      const int part = scene.places[k].part;
      if (part < 0) continue;
      problem_.parts[static_cast<std::size_t>(part)].places.emplace_back(static_cast<int>(s),
                                                                         static_cast<int>(k));
      parts_in[static_cast<std::size_t>(scene.group)].insert(part);
    }
  }
  for (const auto& together : parts_in) {
    for (const int one : together) {
      for (const int two : together) {
        if (one != two) problem_.parts[static_cast<std::size_t>(one)].apart.push_back(two);
      }
    }
  }
  for (const RoleId id : production_.roles.ids()) {
    const Role& role = production_.roles[id];
    CastProblem::Part& part = problem_.parts[id.index()];
    if (role.crowd || part.places.empty()) {
      part = {};
      continue;
    }
    std::sort(part.apart.begin(), part.apart.end());
    part.apart.erase(std::unique(part.apart.begin(), part.apart.end()), part.apart.end());
    if (role.person.valid()) part.fixed = static_cast<int>(role.person.index());
    for (const PersonId who : slots_.for_part(id)) {
      part.candidates.push_back(static_cast<int>(who.index()));
    }
    std::sort(part.candidates.begin(), part.candidates.end());
  }
}

}  // namespace gp
