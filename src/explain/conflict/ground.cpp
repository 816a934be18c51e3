#include "explain/conflict/ground.h"

#include "ordering/windows.h"

#include <algorithm>
#include <functional>
#include <map>
#include <set>

namespace gp::conflict {
namespace {

bool has_tag(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

std::vector<Slot> asked_slots(const Production& film, const Question& question, Answers answers) {
  const Slots all(film, answers);
  const auto crew = film.crew_of(question.scene);
  std::vector<Slot> asked;
  for (const Slot& slot : all.of(question.scene)) {
    const bool needed = slot.kind == Slot::Kind::part ||
                        (slot.kind == Slot::Kind::crowd && slot.role == question.role) ||
                        (slot.kind == Slot::Kind::crew && !question.job.empty() &&
                         crew[slot.call].job == question.job);
    if (needed && slot.people > 0) asked.push_back(slot);
  }
  return asked;
}

}  // namespace

DayGround::DayGround(const Production& the_film,
                     const Question& question,
                     const Terms& terms,
                     DayId day)
    : film(&the_film),
      scene(question.scene),
      frame(the_film, day, terms.answers),
      windows(shot_windows(the_film, frame)[question.scene]),
      slots(asked_slots(the_film, question, terms.answers)),
      kind(the_film.people.size(), 0) {
  // Nobody is there before nobody_before to set up, crew or not.
  for (Span& window : windows) {
    window.from = std::max(window.from, frame.nobody_before + set_up());
  }
  std::erase_if(windows, [&](const Span& window) { return window.length() < shoot(); });
  for (std::size_t s = 0; s < slots.size(); ++s) {
    Head head;
    head.slot = s;
    head.crew = slots[s].kind == Slot::Kind::crew;
    if (!head.crew && film->roles[slots[s].role].look_kind == LookKind::look) {
      head.look = film->roles[slots[s].role].look;
    }
    for (int k = 0; k < slots[s].people; ++k) {
      heads.push_back(head);
      on.emplace_back();
      off.emplace_back();
      if (!head.look.valid()) continue;
      add_chain(film->looks[head.look].steps, terms, on.back());
      add_chain(film->looks[head.look].off, terms, off.back());
    }
  }
  close_ways();
  tell_apart();
}

void DayGround::add_chain(const std::vector<Step>& chain,
                          const Terms& terms,
                          std::vector<ChainStep>& steps) const {
  for (const Step& written : chain) {
    ChainStep step;
    const Station& station = film->stations[written.at];
    step.station = written.at;
    step.place = frame.station_place[written.at];
    step.minutes = written.minutes;
    step.then_wait = written.then_wait;
    step.open = frame.open[written.at];
    step.by = !written.by.empty();
    if (step.by) {
      step.ready = station.set_minutes;
      const auto take = [&](PersonId id) {
        const Person& person = film->people[id];
        if (terms.answers.include(person.answer) && has_tag(person.can, written.by) &&
            !frame.free[id].empty()) {
          step.staff.push_back(id);
        }
      };
      if (station.staff) {
        for (const PersonId id : *station.staff) take(id);
      } else {
        for (const PersonId id : film->people.ids()) take(id);
      }
    }
    steps.push_back(std::move(step));
  }
}

void DayGround::close_ways() {
  std::vector<PlaceId> places{frame.base, place()};
  for (const auto* chains : {&on, &off}) {
    for (const auto& chain : *chains) {
      for (const ChainStep& step : chain) places.push_back(step.place);
    }
  }
  ways_ = ShortestWays(*film, std::move(places));
}

void DayGround::tell_apart() {
  // Alike are those with the same free time, the same places open to them and the same steps they
  // could do.
  std::map<std::vector<std::int64_t>, int> known;
  for (const PersonId who : film->people.ids()) {
    std::vector<std::int64_t> marks;
    for (const Span& span : frame.free[who]) {
      marks.push_back(count(span.from));
      marks.push_back(count(span.until));
    }
    const auto among = [&](const std::vector<PersonId>& list) {
      marks.push_back(std::find(list.begin(), list.end(), who) != list.end() ? -1 : -2);
    };
    for (const Slot& slot : slots) among(slot.candidates);
    for (const auto* chains : {&on, &off}) {
      for (std::size_t h = 0; h < heads.size(); ++h) {
        if (h > 0 && heads[h].slot == heads[h - 1].slot) continue;
        for (const ChainStep& step : (*chains)[h]) among(step.staff);
      }
    }
    kind[who] = known.try_emplace(std::move(marks), static_cast<int>(known.size())).first->second;
  }
}

Minute DayGround::reach(const Span& window, PlaceId where) const {
  const Minutes lead = film->sign_in + way(frame.base, where);
  const Minute first = window.from + lead;
  // The call is the latest round time that leaves the lead; some moment of the next round_to
  // minutes (two hours more on a night when the clocks change) is the first with a call in time.
  const Minute last = first + film->round_to + Minutes{120};
  for (Minute at = first; at < last; at += Minutes{1}) {
    const auto called = frame.call_for(at, lead);
    if (called && *called >= window.from) return at;
  }
  return first;
}

Minute DayGround::call(Minute first, PlaceId where) const {
  const Minutes lead = film->sign_in + way(frame.base, where);
  return frame.call_for(first, lead).value_or(first - lead);
}

bool DayGround::somebody(const ChainStep& step, PersonId wearer, Minute from) const {
  if (!step.by) return true;
  return std::any_of(step.staff.begin(), step.staff.end(), [&](PersonId who) {
    if (who == wearer) return false;
    const auto& free = frame.free[who];
    return std::any_of(free.begin(), free.end(), [&](const Span& window) {
      return reach(window, step.place) + step.ready <= from && from + step.minutes <= window.until;
    });
  });
}

/// When the chain would start, with every chair and hand at this person's service; none: it cannot
/// be gone through in time.
std::optional<Minute> DayGround::chain_starts(std::size_t head,
                                              PersonId who,
                                              const Span& window,
                                              Minute shot) const {
  const auto& chain = on[head];
  Minute by = shot;
  PlaceId next = place();
  bool last = true;
  for (std::size_t k = chain.size(); k-- > 0;) {
    const ChainStep& step = chain[k];
    const Minutes after = std::max(step.then_wait, way(step.place, next));
    Minute start = std::min(by - after, step.open.until) - step.minutes;
    const Minute least = std::max(reach(window, step.place), step.open.from);
    while (start >= least && !somebody(step, who, start)) start -= Minutes{1};
    if (start < least) return std::nullopt;
    const auto& holds = film->looks[heads[head].look].holds_for;
    if (last && holds && shot + shoot() - (start + step.minutes) > *holds) return std::nullopt;
    last = false;
    by = start;
    next = step.place;
  }
  return by;
}

std::optional<Minute> DayGround::chain_ends(std::size_t head,
                                            PersonId who,
                                            const Span& window,
                                            Minute until) const {
  const auto& chain = off[head];
  Minute from = until;
  PlaceId before = place();
  Minutes wait{0};
  for (const ChainStep& step : chain) {
    Minute start = std::max(from + std::max(wait, way(before, step.place)), step.open.from);
    const Minute most = std::min(window.until, step.open.until) - step.minutes;
    while (start <= most && !somebody(step, who, start)) start += Minutes{1};
    if (start > most) return std::nullopt;
    from = start + step.minutes;
    wait = step.then_wait;
    before = step.place;
  }
  return from;
}

/// Whether somebody who is surely there then could still eat every meal that they surely cannot
/// miss.
bool DayGround::meals_leave_room(const Span& sure, Minute shot, bool crew) const {
  for (const MealFrame& meal : frame.meals) {
    if (!sure.covers(meal.between)) continue;
    const bool from_set_up = crew || meal.together;
    const Span busy{from_set_up ? shot - set_up() : shot, shot + shoot()};
    const bool before = std::min(busy.from, meal.between.until) - meal.between.from >= meal.minutes;
    const bool after = meal.between.until - std::max(busy.until, meal.between.from) >= meal.minutes;
    if (!before && !after) return false;
  }
  return true;
}

std::vector<Fitting> DayGround::fitting(std::size_t slot, Minute shot) const {
  std::vector<Fitting> fits;
  std::size_t head = 0;
  while (heads[head].slot != slot) ++head;
  const bool crew = heads[head].crew;
  const Minute first = crew ? shot - set_up() : shot;
  const Minute until = shot + shoot();
  for (const PersonId who : slots[slot].candidates) {
    const auto& free = frame.free[who];
    for (std::size_t w = 0; w < free.size(); ++w) {
      if (first < reach(free[w], place()) || until > free[w].until) continue;
      Minute begins = first;
      Minute ends = until;
      PlaceId at = place();
      if (!on[head].empty()) {
        const auto start = chain_starts(head, who, free[w], shot);
        if (!start) continue;
        begins = *start;
        at = on[head].front().place;
      }
      if (!off[head].empty()) {
        const auto end = chain_ends(head, who, free[w], until);
        if (!end) continue;
        ends = *end;
      }
      const Span sure{call(begins, at), ends};
      if (!meals_leave_room(sure, shot, crew)) continue;
      fits.push_back({who, w, sure});
    }
  }
  return fits;
}

std::optional<std::vector<std::vector<ItemId>>> share_items(const Production& film,
                                                            SceneId scene,
                                                            const std::vector<Head>& heads) {
  // Every stretch in a look holds the shot, and so do the props: at the shot all are out together.
  std::map<ItemId, std::int64_t> left;
  for (const Prop& prop : film.scenes[scene].props) {
    left.try_emplace(prop.item, film.items[prop.item].count);
    if ((left[prop.item] -= prop.count) < 0) return std::nullopt;
  }
  struct Need {
    std::size_t head = 0, item = 0;
    std::vector<ItemId> may;
    ItemId has;
  };
  std::vector<Need> needs;
  for (std::size_t h = 0; h < heads.size(); ++h) {
    if (!heads[h].look.valid()) continue;
    const auto& items = film.looks[heads[h].look].items;
    for (std::size_t i = 0; i < items.size(); ++i) {
      Need need{h, i, {items[i]}, ItemId()};
      const auto& instead = film.items[items[i]].instead;
      need.may.insert(need.may.end(), instead.begin(), instead.end());
      for (const ItemId item : need.may) left.try_emplace(item, film.items[item].count);
      needs.push_back(std::move(need));
    }
  }
  // Augmenting paths; an item has as many seats as there are of it.
  std::set<ItemId> asked;
  const std::function<bool(Need&)> give = [&](Need& need) {
    for (const ItemId item : need.may) {
      if (!asked.insert(item).second) continue;
      if (left[item] > 0) {
        --left[item];
        need.has = item;
        return true;
      }
      for (Need& other : needs) {
        if (other.has != item || &other == &need) continue;
        if (!give(other)) continue;
        need.has = item;
        return true;
      }
    }
    return false;
  };
  std::vector<std::vector<ItemId>> shared(heads.size());
  for (Need& need : needs) {
    asked.clear();
    if (!give(need)) return std::nullopt;
  }
  for (const Need& need : needs) shared[need.head].push_back(need.has);
  return shared;
}

}  // namespace gp::conflict
