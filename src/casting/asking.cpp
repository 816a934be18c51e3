#include "casting/asking.h"

#include "casting/slots.h"
#include "casting/who_can.h"
#include "casting/whole_chance.h"

#include <algorithm>
#include <iterator>
#include <utility>

namespace gp {
namespace {

constexpr Answers kAllButNo{true, true};
constexpr int kMostOthers = 1000;  // asked for one row; more is no answer to anybody

/// How many others, coming with `each`, make it sure beside those of the list.
std::optional<int> others_needed(std::vector<Party> who, int wanted, double each, double sure) {
  if (chance_of_enough(who, wanted) >= sure) return 0;
  if (each <= 0) return std::nullopt;
  for (int more = 1; more <= kMostOthers; ++more) {
    who.push_back({1, each});
    if (chance_of_enough(who, wanted) >= sure) return more;
  }
  return std::nullopt;
}

class Rows {
 public:
  Rows(const Production& production, const std::vector<double>& sure, double each)
      : production_(production), changed_(production), sure_(sure), each_(each) {}

  /// \param same  rows of the same people for the same thing are one
  void need(NeedRow row, SceneId scene) {
    const auto same = std::find_if(rows_.begin(), rows_.end(), [&](const NeedRow& other) {
      return other.kind == row.kind && other.role == row.role && other.job == row.job &&
             other.station == row.station && other.people == row.people &&
             other.others == row.others && other.needs == row.needs;
    });
    if (same == rows_.end()) {
      row.scenes = {scene};
      rows_.push_back(std::move(row));
    } else if (row.wanted > same->wanted) {
      same->wanted = row.wanted;
      same->scenes.push_back(scene);
      std::rotate(same->scenes.begin(), same->scenes.end() - 1, same->scenes.end());
    } else if (std::find(same->scenes.begin(), same->scenes.end(), scene) == same->scenes.end()) {
      same->scenes.push_back(scene);
    }
  }

  std::vector<NeedRow> finished() {
    std::stable_sort(rows_.begin(), rows_.end(), [](const NeedRow& a, const NeedRow& b) {
      return a.kind < b.kind;
    });
    for (NeedRow& row : rows_) count(row);
    return std::move(rows_);
  }

 private:
  void count(NeedRow& row) {
    const std::vector<Party> who = parties(production_, row.people);
    for (const Party& party : who) row.expected += party.heads * party.chance;
    row.chance = chance_of_enough(who, row.wanted);
    for (const PersonId id : row.people) {
      if (yes_would_be_news(production_.people[id])) row.ask_first.push_back(id);
    }
    std::stable_sort(row.ask_first.begin(), row.ask_first.end(), [&](PersonId a, PersonId b) {
      return chance_of_coming(production_.people[a]) > chance_of_coming(production_.people[b]);
    });
    const bool fixed = row.others == NeedRow::Others::named;
    for (const double sure : sure_) {
      AskedFor asked{sure, 0, std::nullopt, std::nullopt};
      if (!fixed) asked.others_only = others_needed(who, row.wanted, each_, sure);
      std::vector<Party> with_yes = who;
      while (chance_of_enough(with_yes, row.wanted) < sure &&
             asked.yeses < static_cast<int>(row.ask_first.size())) {
        const PersonId next = row.ask_first[static_cast<std::size_t>(asked.yeses++)];
        changed_.people[next].answer = Answer::yes;
        with_yes = parties(changed_, row.people);
      }
      if (chance_of_enough(with_yes, row.wanted) >= sure) {
        asked.more = 0;
      } else if (!fixed) {
        asked.more = others_needed(with_yes, row.wanted, each_, sure);
      }
      for (const PersonId id : row.ask_first) {
        changed_.people[id].answer = production_.people[id].answer;
      }
      row.asked.push_back(asked);
    }
  }

  const Production& production_;
  Production changed_;  ///< the same but for answers that become yes for a moment
  std::vector<double> sure_;
  double each_;
  std::vector<NeedRow> rows_;
};

std::vector<PersonId> free_ones(const FreeFor& free,
                                SceneId scene,
                                const std::vector<PersonId>& people) {
  std::vector<PersonId> list;
  std::copy_if(people.begin(), people.end(), std::back_inserter(list), [&](PersonId id) {
    return free.ever(scene, id);
  });
  return list;
}

NeedRow row_of(const Production& production, const FreeFor& free, SceneId id, const Slot& slot) {
  NeedRow row;
  row.wanted = slot.people;
  row.people = free_ones(free, id, slot.candidates);
  if (slot.kind == Slot::Kind::crew) {
    const CrewCall call = production.crew_of(id).at(slot.call);
    row.kind = NeedRow::Kind::crew;
    row.job = call.job;
    row.needs = call.needs;
    if (!call.from.empty()) row.others = NeedRow::Others::named;
  } else {
    const Role& role = production.roles[slot.role];
    row.kind = role.crowd ? NeedRow::Kind::crowd : NeedRow::Kind::part;
    row.role = slot.role;
    row.needs = role.needs;
    if (role.from || role.person.valid()) row.others = NeedRow::Others::named;
  }
  if (row.others == NeedRow::Others::anybody && !row.needs.empty()) {
    row.others = NeedRow::Others::with_skill;
  }
  return row;
}

/// Who may play a part in all of its scenes, by hours too: each has one row, not one a scene.
std::vector<PersonId> for_all_scenes(const Slots& slots, const FreeFor& free, RoleId role) {
  std::vector<PersonId> list;
  for (const PersonId id : slots.for_part(role)) {
    const auto& scenes = slots.scenes_of(role);
    if (std::all_of(
            scenes.begin(), scenes.end(), [&](SceneId scene) { return free.ever(scene, id); })) {
      list.push_back(id);
    }
  }
  return list;
}

}  // namespace

bool yes_would_be_news(const Person& person) {
  return (person.answer == Answer::maybe || person.answer == Answer::asked) && !person.turnout;
}

Asking how_to_ask(const Production& production,
                  const std::vector<double>& sure,
                  double each,
                  std::uint64_t seed) {
  const Slots slots(production, kAllButNo);
  const FreeFor free(production, kAllButNo);
  Asking asking{sure, each, {}, {}};
  Rows rows(production, sure, each);
  for (const SceneId id : production.scenes.ids()) {
    for (const Slot& slot : slots.of(id)) {
      NeedRow row = row_of(production, free, id, slot);
      if (row.kind == NeedRow::Kind::part) row.people = for_all_scenes(slots, free, slot.role);
      rows.need(std::move(row), id);
    }
  }
  for (const HelperNeed& helper : helpers_needed(production, kAllButNo)) {
    NeedRow row;
    row.kind = NeedRow::Kind::helper;
    row.station = helper.station;
    row.job = helper.skill;
    row.needs = {helper.skill};
    row.wanted = 1;
    row.people = helper.people;
    row.others = production.stations[helper.station].staff ? NeedRow::Others::named
                                                           : NeedRow::Others::with_skill;
    for (const SceneId id : helper.scenes) rows.need(row, id);
  }
  asking.rows = rows.finished();
  asking.whole = whole_chances(production, slots, free, sure, each, seed);
  return asking;
}

}  // namespace gp
