#include "search/builder.h"

#include <algorithm>
#include <array>
#include <map>

namespace gp {
namespace {

/// How often a scene whose crowd is short looks for a later, fuller time.
constexpr int kLaterTries = 10;
/// How many of a sort may fail in a row for want of a chair before the rest of it is not asked.
constexpr int kChairFailures = 8;
/// How many starts a scene tries in one window before it gives the day up.
constexpr int kStartTries = 240;
/// What it counts against somebody [min] that a part which only they can play is still to come:
/// taken for a crowd now, they wait for it.
constexpr int kAwaited = 20;
/// The same for each head of a later crowd or crew that is certain to want them [min]: who can do
/// what few can should not be spent on what all can.
constexpr std::int64_t kScarce = 30;

/// What it counts for somebody [min] that they are picked.
constexpr std::int64_t kPicked = 1'000'000;

}  // namespace

Builder::Builder(const Problem& problem)
    : problem_(problem),
      filmed_(problem.production.scenes.size()),
      certain_(problem.production.people.size()),
      sort_of_(problem.production.people.size()),
      picked_(problem.production.people.size(), 0),
      playing_(problem.production.roles.size()) {
  reluctance_.resize(problem.days.size());
  Table<PersonId, Demand> demand(problem.production.people.size());
  for (const SceneId scene : problem.production.scenes.ids()) {
    for (const Slot& slot : problem.slots.of(scene)) {
      if (slot.kind == Slot::Kind::part && slot.candidates.size() == 1) {
        certain_[slot.candidates.front()].push_back(scene);
      }
      if (slot.kind == Slot::Kind::part || slot.candidates.empty()) continue;
      const auto share = 1000 * slot.people / static_cast<std::int64_t>(slot.candidates.size());
      for (const PersonId who : slot.candidates) demand[who].emplace_back(scene, share);
    }
  }
  std::map<Demand, std::size_t> sorts;
  for (const PersonId who : problem.production.people.ids()) {
    const auto [at, fresh] = sorts.try_emplace(demand[who], sorts_.size());
    if (fresh) sorts_.push_back(demand[who]);
    sort_of_[who] = at->second;
  }
  days_.reserve(problem.days.size());
  for (const DayFrame& frame : problem.days) {
    days_.emplace_back(problem.production, frame, problem.staff);
  }
}

std::uint64_t Builder::work() const {
  std::uint64_t sum = tries_;
  for (const DayDraft& day : days_) sum += day.work();
  return sum;
}

bool Builder::other_day(const Recipe& recipe, std::size_t day) const {
  return last_->meals[day] != recipe.meals[day] ||
         last_->reluctance[day] != recipe.reluctance[day] || last_->helpers != recipe.helpers;
}

bool Builder::apart_from(SceneId scene, std::size_t day) const {
  // where it does not stand on the day it was to stand on, others were tried
  return filmed_[scene] && filmed_[scene]->day != day &&
         last_->day[scene] == static_cast<int>(filmed_[scene]->day);
}

std::size_t Builder::same_as_last(const Recipe& recipe) const {
  if (!last_) return 0;
  std::vector<std::size_t> others;
  for (std::size_t day = 0; day < days_.size(); ++day) {
    if (other_day(recipe, day)) others.push_back(day);
  }
  const std::size_t alike = std::min(placed_.size(), same_scenes(problem_, recipe, *last_));
  std::size_t same = 0;
  for (; same < alike; ++same) {
    const bool apart = std::all_of(others.begin(), others.end(), [&](std::size_t day) {
      return apart_from(recipe.order[same], day);
    });
    if (!apart) break;
  }
  return same;
}

void Builder::take_back_to(std::size_t placed) {
  while (placed_.size() > placed) {
    const Placed& last = placed_.back();
    filmed_[last.scene].reset();
    for (RoleId role : last.gave) playing_[role] = PersonId();
    if (placed_.size() == placed + 1) {
      for (std::size_t d = 0; d < days_.size(); ++d) days_[d].rollback(last.marks[d]);
    }
    placed_.pop_back();
  }
}

Cost Builder::build(const Recipe& recipe, Stop& stop) {
  // A build is work even where nothing is left to build: its price is reckoned over everybody.
  tries_ += 8 + days_.size() * problem_.production.people.size() / 4;
  const std::size_t same = same_as_last(recipe);
  take_back_to(same);
  recipe_ = &recipe;
  for (std::size_t d = 0; d < days_.size(); ++d) {
    // nothing stands on a day that is to begin otherwise
    if (same == 0 || other_day(recipe, d)) {
      days_[d].begin(
          recipe.meals[d], &reluctance_[d], recipe.helpers ? &(*recipe.helpers)[d] : nullptr);
    }
  }
  reluctance_ = recipe.reluctance;
  stop_ = &stop;
  cut_short_ = false;
  for (std::size_t i = same; i < recipe.order.size(); ++i) {
    if (stop.now()) {
      cut_short_ = true;
      break;
    }
    Placed& now = placed_.emplace_back();
    now.scene = recipe.order[i];
    for (DayDraft& day : days_) now.marks.push_back(day.mark());
    newly_.clear();
    place(recipe.order[i]);
    if (filmed_[recipe.order[i]]) now.gave = newly_;
    if (stop.now()) {
      // Perhaps stopped in the middle of it: what is not whole must not be built upon.
      take_back_to(placed_.size() - 1);
      cut_short_ = true;
      break;
    }
  }
  last_ = recipe;
  return price();
}

void Builder::place(SceneId scene) {
  ++tries_;
  later_ = demands();
  std::size_t first = 0;
  for (SceneId before : problem_.production.scenes[scene].after) {
    if (filmed_[before]) first = std::max(first, filmed_[before]->day);
  }
  const int wanted = recipe_->day[scene];
  if (wanted >= static_cast<int>(first) && place_on(scene, static_cast<std::size_t>(wanted)))
    return;
  for (std::size_t d = first; d < days_.size(); ++d) {
    if (static_cast<int>(d) != wanted && place_on(scene, d)) return;
  }
}

bool Builder::place_on(SceneId scene, std::size_t day) {
  if (!problem_.open_on(scene, day)) return false;
  const Production& film = problem_.production;
  const Scene& spec = film.scenes[scene];
  DayDraft& draft = days_[day];
  const Minutes set_up = draft.set_up(scene);

  Minute earliest = draft.unit_free(scene) + set_up;
  earliest = std::max(earliest, draft.frame().first_shot + recipe_->hold_back[scene]);
  for (SceneId before : spec.after) {
    if (filmed_[before] && filmed_[before]->day == day) {
      earliest = std::max(earliest, filmed_[before]->until);
    }
  }

  struct Best {
    int missing;
    Minute at;
  };
  std::optional<Best> best;
  int later_tries = 0;
  const auto keep = [&](Minute at) {
    const Span shot{at, at + spec.shoot_minutes};
    draft.take_unit(scene, shot);
    filmed_[scene] = Filmed{day, at - set_up, at, shot.until, people_};
    return true;
  };

  for (const Span& window : problem_.windows[day][scene]) {
    Minute at = std::max(earliest, window.from);
    int tries = 0;
    while (at + spec.shoot_minutes <= window.until && tries < kStartTries) {
      tries_ += 2;
      if (stop_->now()) return false;
      const Span shot{at, at + spec.shoot_minutes};
      const Span whole{at - set_up, shot.until};
      if (const Span* meal = draft.ground().meal_in(whole)) {
        at = meal->until + set_up;
        continue;
      }
      if (const auto out = draft.props_out(scene, whole)) {
        at = *out + Minutes{1} + set_up;
        continue;
      }
      const DayFrame& frame = draft.frame();
      if (!frame.nameable(whole.from) || !frame.nameable(at) || !frame.nameable(shot.until)) {
        at += Minutes{1};
        continue;
      }
      ++tries;
      const DayDraft::Mark mark = draft.mark();
      const Fill result = fill(scene, day, shot);
      if (result.parts && result.missing == 0) return keep(at);
      draft.rollback(mark);
      for (RoleId role : newly_) playing_[role] = PersonId();
      if (!result.parts) {
        at = std::max(result.retry_at, at + Minutes{1});
        continue;
      }
      if (!best || result.missing < best->missing) best = Best{result.missing, at};
      if (recipe_->patient[scene] == 0 || ++later_tries > kLaterTries) break;
      // half of what the chairs need for those still missing: the next try knows better
      at += result.chairs ? std::max(Minutes{10}, result.chair_time / 2) : Minutes{20};
    }
    if (best && (recipe_->patient[scene] == 0 || later_tries > kLaterTries)) break;
  }
  if (!best) return false;
  fill(scene, day, {best->at, best->at + spec.shoot_minutes});
  return keep(best->at);
}

bool Builder::awaited(PersonId who) const {
  return std::any_of(
      certain_[who].begin(), certain_[who].end(), [&](SceneId scene) { return !filmed_[scene]; });
}

std::vector<std::int64_t> Builder::demands() const {
  std::vector<std::int64_t> costs;
  costs.reserve(sorts_.size());
  for (const Demand& demand : sorts_) {
    std::int64_t sum = 0;
    for (const auto& [scene, share] : demand) {
      if (!filmed_[scene]) sum += share;
    }
    costs.push_back(sum * kScarce / 1000);
  }
  return costs;
}

bool Builder::in_scene(PersonId who) const {
  return std::any_of(people_.begin(), people_.end(), [&](const std::vector<PersonId>& people) {
    return std::find(people.begin(), people.end(), who) != people.end();
  });
}

Builder::Fill Builder::fill(SceneId scene, std::size_t day, Span shot) {
  const auto& slots = problem_.slots.of(scene);
  people_.assign(slots.size(), {});
  newly_.clear();
  Fill result;
  DayDraft& draft = days_[day];
  draft.take_props(scene, {shot.from - draft.set_up(scene), shot.until});
  // Parts first, in the recipe's turn: whoever is prepared first gets the chairs nearest the shot.
  std::vector<std::size_t> parts;
  for (std::size_t s = 0; s < slots.size() && slots[s].kind == Slot::Kind::part; ++s) {
    parts.push_back(s);
  }
  std::stable_sort(parts.begin(), parts.end(), [&](std::size_t a, std::size_t b) {
    return recipe_->turn[slots[a].role] < recipe_->turn[slots[b].role];
  });
  for (std::size_t s : parts) {
    if (!fill_part(slots[s], scene, day, shot, result)) return result;
    people_[s].push_back(playing_[slots[s].role]);
  }
  const std::size_t heads = slots.size() - parts.size();
  for (std::size_t k = 0; k < heads; ++k) {
    const auto turned = static_cast<std::size_t>(recipe_->heads_first[scene]) + k;
    const std::size_t s = parts.size() + turned % heads;
    fill_heads(slots[s], s, scene, day, shot, result);
  }
  result.parts = true;
  return result;
}

bool Builder::take(PersonId who, const Slot& slot, SceneId scene, std::size_t day, Span shot) {
  DayDraft& draft = days_[day];
  if (slot.kind == Slot::Kind::crew) {
    return draft.add_crew(who, scene, {shot.from - draft.set_up(scene), shot.until});
  }
  return draft.add_cast(who, problem_.production.roles[slot.role], scene, shot);
}

Snag Builder::try_besides(PersonId who, const Slot& slot, SceneId scene) {
  const Filmed& filmed = *filmed_[scene];
  DayDraft& draft = days_[filmed.day];
  const DayDraft::Mark mark = draft.mark();
  const bool taken =
      slot.kind == Slot::Kind::crew
          ? draft.add_crew(who, scene, {filmed.set_at, filmed.until})
          : draft.add_cast(
                who, problem_.production.roles[slot.role], scene, {filmed.shoot_at, filmed.until});
  const Snag snag = taken ? Snag::none : draft.snag();
  draft.rollback(mark);
  return snag;
}

bool Builder::kept_for_others(PersonId who, RoleId part, SceneId scene) const {
  if (problem_.slots.for_some_of_part(part).size() < 2) return false;
  const auto can = [&](SceneId other) { return problem_.could_play(who, part, other); };
  const auto& scenes = problem_.slots.scenes_of(part);
  return !can(scene) && std::any_of(scenes.begin(), scenes.end(), can);
}

bool Builder::fill_part(const Slot& slot, SceneId scene, std::size_t day, Span shot, Fill& result) {
  result.retry_at = kNever;
  const auto attempt = [&](PersonId who) {
    if (in_scene(who)) return false;
    if (take(who, slot, scene, day, shot)) return true;
    result.retry_at = std::min(result.retry_at, days_[day].retry_at());
    return false;
  };
  const PersonId plays = playing_[slot.role];
  if (plays.valid()) return slot.may(plays) && attempt(plays);
  const PersonId wanted = recipe_->part[slot.role];
  const auto give = [&](PersonId who) {
    playing_[slot.role] = who;
    newly_.push_back(slot.role);
    return true;
  };
  if (wanted.valid()) {
    if (slot.may(wanted) && attempt(wanted)) return give(wanted);
    // it is lost, so that those where they can be had are not
    if (kept_for_others(wanted, slot.role, scene)) return false;
  }
  for (PersonId who : slot.candidates) {
    if (who != wanted && attempt(who)) return give(who);
  }
  return false;
}

void Builder::fill_heads(
    const Slot& slot, std::size_t index, SceneId scene, std::size_t day, Span shot, Fill& result) {
  const DayDraft& draft = days_[day];
  LookId look;
  if (slot.kind == Slot::Kind::crowd &&
      problem_.production.roles[slot.role].look_kind == LookKind::look) {
    look = problem_.production.roles[slot.role].look;
  }
  std::vector<std::pair<std::int64_t, PersonId>> asked;
  const auto picks =
      recipe_->picks.begin() + static_cast<std::ptrdiff_t>(problem_.first_head_of(scene, index));
  const auto mark = [&](char picked) {
    std::for_each(picks, picks + slot.people, [&](PersonId who) {
      if (who.valid()) picked_[who] = picked;
    });
  };
  mark(1);
  for (PersonId who : slot.candidates) {
    if (draft.frame().free[who].empty() || in_scene(who)) continue;
    std::int64_t cost = draft.estimate(who, look, shot);
    if (awaited(who)) cost += kAwaited;
    cost += later_[sort_of_[who]];
    if (!draft.person(who).engagements.empty()) cost += recipe_->stayers[scene];
    if (picked_[who] != 0) cost -= kPicked;
    asked.emplace_back(cost, who);
  }
  mark(0);
  std::sort(asked.begin(), asked.end());
  // Who must take something off first wants other chairs than who comes fresh: one sort failing
  // says nothing of the other.
  std::array<int, 2> failures{0, 0};
  for (const auto& [cost, who] : asked) {
    if (static_cast<int>(people_[index].size()) == slot.people || stop_->now()) break;
    int& failed = failures[draft.person(who).blocks.empty() ? 0 : 1];
    if (failed == kChairFailures) continue;
    if (take(who, slot, scene, day, shot)) {
      people_[index].push_back(who);
      failed = 0;
      continue;
    }
    if (draft.snag() == Snag::chair) {
      result.chairs = true;
      ++failed;
    }
  }
  const int missing = slot.people - static_cast<int>(people_[index].size());
  result.missing += missing;
  if (!look.valid()) return;
  for (const Step& step : problem_.production.looks[look].steps) {
    const int places = problem_.production.stations[step.at].places;
    result.chair_time = std::max(result.chair_time, step.minutes * missing / places);
  }
}

Cost Builder::price() const {
  const Production& film = problem_.production;
  Cost cost;
  std::vector<Minute> wraps(days_.size(), kAlwaysBefore);
  std::vector<Minute> calls(days_.size(), kNever);
  std::vector<Minute> firsts(days_.size(), kNever);
  for (SceneId id : film.scenes.ids()) {
    const Scene& scene = film.scenes[id];
    if (!filmed_[id]) {
      (scene.optional ? cost.lost_optional : cost.lost) += scene.worth;
      continue;
    }
    const auto& slots = problem_.slots.of(id);
    for (std::size_t s = 0; s < slots.size(); ++s) {
      cost.unfilled += slots[s].people - static_cast<int>(filmed_[id]->people[s].size());
    }
    firsts[filmed_[id]->day] = std::min(firsts[filmed_[id]->day], filmed_[id]->shoot_at);
    wraps[filmed_[id]->day] = std::max(wraps[filmed_[id]->day], filmed_[id]->until);
  }
  for (std::size_t d = 0; d < days_.size(); ++d) {
    for (PersonId who : film.people.ids()) {
      const PersonDay& day = days_[d].person(who);
      if (day.engagements.empty()) continue;
      const auto times = stay_of(days_[d].ground(), day);
      if (!times) continue;  // settle() has seen to it that there are some
      cost.weighted += count(times->stay.length()) * film.people[who].weight;
      cost.on_site += count(times->stay.length());
      calls[d] = std::min(calls[d], times->stay.from);
    }
    if (wraps[d] == kAlwaysBefore) continue;
    cost.wrap += count(wraps[d]);
    if (film.aim == Aim::latest_first_call) {
      // where nobody is called, the day begins with its first shot
      const Minute called = calls[d] == kNever ? firsts[d] : calls[d];
      // Where nothing says when the day must end, later would always be better, for ever: there it
      // is the way from the first call to the first shot that counts.
      const bool ends = film.days[problem_.days[d].id].wrap_by.has_value();
      cost.early += count((ends ? kDayEnd : firsts[d]) - called);
    }
  }
  return cost;
}

}  // namespace gp
