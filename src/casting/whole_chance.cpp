#include "casting/whole_chance.h"

#include "casting/seating.h"
#include "casting/turnout.h"

#include <algorithm>
#include <deque>
#include <map>
#include <set>

namespace gp {
namespace {

constexpr int kMostTried = 60;  // choices of parts for one day
constexpr int kMostOthersAsked = 400;
constexpr int kNever = -1;

/// The seats of one scene on one of the days it may be filmed on.
struct SceneSeats {
  std::vector<Seat> seats;
  std::vector<RoleId> part_of;  ///< by seat; none: no part
};

class WholeCount {
 public:
  WholeCount(const Production& production,
             const Slots& slots,
             const FreeFor& free,
             const std::vector<SceneId>& scenes)
      : production_(production),
        seating_(production.people.size()),
        chosen_(production.roles.size()) {
    std::set<PersonId> relevant;
    for (const SceneId scene : scenes) {
      std::vector<SceneSeats> days;
      for (const DayId day : free.days_of(scene)) {
        days.push_back(seats_of(slots, free, scene, day, relevant));
      }
      scenes_.push_back(std::move(days));
    }
    for (const RoleId role : production.roles.ids()) {
      const auto& in = slots.scenes_of(role);
      const auto here = std::count_if(in.begin(), in.end(), [&](SceneId scene) {
        return std::find(scenes.begin(), scenes.end(), scene) != scenes.end();
      });
      if (!production.roles[role].crowd && here > 1 && slots.for_part(role).size() > 1) {
        linked_.push_back({role, &slots.for_part(role), {}});
        for (std::size_t i = 0; i < scenes.size(); ++i) {
          if (std::find(in.begin(), in.end(), scenes[i]) != in.end()) {
            linked_.back().scenes.push_back(i);
          }
        }
      }
    }
    for (HelperNeed& helper : helpers_needed(production, Answers{true, true})) {
      if (std::any_of(helper.scenes.begin(), helper.scenes.end(), [&](SceneId scene) {
            return std::find(scenes.begin(), scenes.end(), scene) != scenes.end();
          })) {
        relevant.insert(helper.people.begin(), helper.people.end());
        helpers_.push_back(std::move(helper.people));
      }
    }
    parties_ = parties_by_name(production, {relevant.begin(), relevant.end()});
  }
  WholeCount(const WholeCount&) = delete;
  WholeCount& operator=(const WholeCount&) = delete;

  WholeChance count(const std::vector<double>& sure, double each, std::uint64_t seed) {
    std::map<int, double> missing;  // others needed -> share of the days; kNever: they cannot help
    Table<PersonId, double> came_so(production_.people.size(), 0.0);  // came, and all is filled
    Table<PersonId, double> came_ever(production_.people.size(), 0.0);
    WholeChance whole;
    bool cut = false;
    const bool exact =
        go_through_days(production_, parties_, seed, [&](const std::vector<char>& came, double w) {
          if (w <= 0) return;
          const int others = others_on(came, cut);
          missing[others] += w;
          if (cut) whole.cut_short += w;
          for (const PartyOfPeople& party : parties_) {
            for (const PersonId id : party.people) {
              if (came[id.index()] == 0) continue;
              came_ever[id] += w;
              if (others == 0) came_so[id] += w;
            }
          }
        });
    whole.chance = likelihood_of(missing[0], exact);
    for (const double wish : sure) whole.others.push_back(others_for(missing, each, wish));
    for (const PartyOfPeople& party : parties_) {
      for (const PersonId id : party.people) {
        if (!yes_would_be_news(production_.people[id])) continue;
        const double ever = came_ever[id];
        if (ever <= 0 || ever >= 1) continue;
        // by the law of total probability, with their chance risen to that of a yes
        const double with = came_so[id] / ever;
        const double without = (missing[0] - came_so[id]) / (1 - ever);
        const double raises = (kTurnoutYes - party.chance) * (with - without);
        const double noise = exact ? 1e-9 : 2 * whole.chance.error;
        if (raises > noise) whole.best_yes.push_back({id, raises});
      }
    }
    std::stable_sort(whole.best_yes.begin(), whole.best_yes.end(), [](const Yes& a, const Yes& b) {
      return a.raises > b.raises;
    });
    return whole;
  }

 private:
  struct Linked {
    RoleId role;
    const std::vector<PersonId>* who;
    std::vector<std::size_t> scenes;
  };

  SceneSeats seats_of(const Slots& slots,
                      const FreeFor& free,
                      SceneId scene,
                      DayId day,
                      std::set<PersonId>& relevant) {
    SceneSeats all;
    for (const Slot& slot : slots.of(scene)) {
      std::vector<PersonId> who;
      std::copy_if(slot.candidates.begin(),
                   slot.candidates.end(),
                   std::back_inserter(who),
                   [&](PersonId id) { return free.on(scene, day, id); });
      relevant.insert(who.begin(), who.end());
      lists_.push_back(std::move(who));
      bool open = false;
      if (slot.kind == Slot::Kind::crew) {
        const CrewCall call = production_.crew_of(scene).at(slot.call);
        open = call.from.empty() && call.needs.empty();
      } else if (slot.kind == Slot::Kind::crowd) {
        const Role& role = production_.roles[slot.role];
        open = !role.from && role.needs.empty();
      }
      for (int i = 0; i < slot.people; ++i) {
        all.seats.push_back({&lists_.back(), open});
        all.part_of.push_back(slot.kind == Slot::Kind::part ? slot.role : RoleId());
      }
    }
    return all;
  }

  /// Others needed in one scene on its best day, with the parts chosen so far.
  int others_in(std::size_t scene, const std::vector<char>& came) {
    int best = kNever;
    for (const SceneSeats& day : scenes_[scene]) {
      seats_now_ = day.seats;
      bool possible = true;
      for (std::size_t i = 0; i < seats_now_.size(); ++i) {
        if (!day.part_of[i].valid() || chosen_[day.part_of[i]].empty()) continue;
        const std::vector<PersonId>& one = chosen_[day.part_of[i]];
        const auto& may = *seats_now_[i].who;
        possible = possible && std::find(may.begin(), may.end(), one.front()) != may.end();
        seats_now_[i].who = &one;
      }
      if (!possible) continue;
      if (const auto empty = seating_.empty_seats(seats_now_, came)) {
        if (best == kNever || *empty < best) best = *empty;
        if (best == 0) break;
      }
    }
    return best;
  }

  /// Others needed for all scenes; kNever where one cannot be filled by them.
  int others_now(const std::vector<char>& came) {
    int most = 0;
    for (std::size_t scene = 0; scene < scenes_.size(); ++scene) {
      const int others = others_in(scene, came);
      if (others == kNever) return kNever;
      most = std::max(most, others);
    }
    return most;
  }

  int others_on(const std::vector<char>& came, bool& cut) {
    cut = false;
    for (const auto& helper : helpers_) {
      if (std::none_of(
              helper.begin(), helper.end(), [&](PersonId id) { return came[id.index()] != 0; })) {
        return kNever;
      }
    }
    const int loose = others_now(came);  // as if a part could have another person in every scene
    if (loose == kNever || linked_.empty()) return loose;
    best_ = kNever;
    tried_ = 0;
    choose(0, came, loose);
    for (const Linked& linked : linked_) chosen_[linked.role].clear();
    if (tried_ > kMostTried && best_ != loose) {
      cut = true;
      return loose;
    }
    return best_;
  }

  /// Tries who plays the linked parts from the given one on; keeps the least others needed.
  void choose(std::size_t part, const std::vector<char>& came, int least) {
    if (best_ == least || ++tried_ > kMostTried) return;
    if (part == linked_.size()) {
      const int others = others_now(came);
      if (others != kNever && (best_ == kNever || others < best_)) best_ = others;
      return;
    }
    const Linked& linked = linked_[part];
    for (const PersonId id : *linked.who) {
      if (came[id.index()] == 0) continue;
      chosen_[linked.role] = {id};
      const bool works = std::all_of(linked.scenes.begin(), linked.scenes.end(), [&](auto scene) {
        return others_in(scene, came) != kNever;
      });
      if (works) choose(part + 1, came, least);
      chosen_[linked.role].clear();
      if (best_ == least || tried_ > kMostTried) return;
    }
  }

  /// The smallest number of others with which the sum over the days reaches the wish.
  static std::optional<int> others_for(const std::map<int, double>& missing,
                                       double each,
                                       double wish) {
    const auto reached = [&](int asked) {
      const std::vector<Party> others(static_cast<std::size_t>(asked), Party{1, each});
      double sum = 0;
      for (const auto& [wanted, share] : missing) {
        if (wanted != kNever) sum += share * chance_of_enough(others, wanted);
      }
      return sum >= wish - 1e-12;
    };
    // more is never worse, so that halves can be left out
    if (reached(0)) return 0;
    if (!reached(kMostOthersAsked)) return std::nullopt;
    int few = 0;
    int enough = kMostOthersAsked;
    while (enough - few > 1) {
      const int middle = few + (enough - few) / 2;
      (reached(middle) ? enough : few) = middle;
    }
    return enough;
  }

  const Production& production_;
  Seating seating_;
  std::deque<std::vector<PersonId>> lists_;  ///< stay where they are: seats point to them
  std::vector<std::vector<SceneSeats>> scenes_;
  std::vector<Linked> linked_;
  std::vector<std::vector<PersonId>> helpers_;
  std::vector<PartyOfPeople> parties_;
  Table<RoleId, std::vector<PersonId>> chosen_;
  std::vector<Seat> seats_now_;
  int best_ = kNever;
  int tried_ = 0;
};

}  // namespace

std::vector<WholeChance> whole_chances(const Production& production,
                                       const Slots& slots,
                                       const FreeFor& free,
                                       const std::vector<double>& sure,
                                       double each,
                                       std::uint64_t seed) {
  std::vector<WholeChance> list;
  std::vector<SceneId> all;
  for (const SceneId scene : production.scenes.ids()) all.push_back(scene);
  const auto add = [&](const std::vector<SceneId>& scenes, std::optional<DayId> day) {
    list.push_back(WholeCount(production, slots, free, scenes).count(sure, each, seed));
    list.back().day = day;
    list.back().scenes = scenes.size();
  };
  if (production.days.size() > 1) {
    for (const DayId day : production.days.ids()) {
      std::vector<SceneId> own;
      std::copy_if(all.begin(), all.end(), std::back_inserter(own), [&](SceneId scene) {
        return free.days_of(scene) == std::vector<DayId>{day};
      });
      if (!own.empty()) add(own, day);
    }
  }
  add(all, std::nullopt);
  return list;
}

}  // namespace gp
