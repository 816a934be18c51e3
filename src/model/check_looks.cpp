// Rules 6 and 8: what people wear, and what of it there is.
#include "model/check_day.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace gp::checking {
namespace {

std::string named(const Judged& judged, PersonId who, LookId look) {
  return phrase(judged.production->people[who].id, "'s ", judged.production->looks[look].id);
}

/// Everyone cast wears the role's look, or none where the role is played as themselves.
void check_dressed(const Judged& judged,
                   const JudgedDay& day,
                   const PlannedScene& planned,
                   Findings& findings) {
  const Production& production = *judged.production;
  const Span shot{planned.shoot_at, planned.until};
  const std::string& scene = production.scenes[planned.scene].id;
  for (const CastEntry& entry : planned.cast) {
    const Role& role = production.roles[entry.role];
    for (const PersonId who : entry.people) {
      const std::string& id = production.people[who].id;
      switch (role.look_kind) {
        case LookKind::any:
          break;
        case LookKind::look:
          if (day.wears_over(who, role.look, shot).size() != 1) {
            findings.add(
                6, id, phrase("does not wear ", production.looks[role.look].id, " in ", scene));
          }
          break;
        case LookKind::themselves: {
          const auto found = day.worn.find(who);
          if (found == day.worn.end()) break;
          for (const Worn& worn : found->second) {
            if (worn.wear->from < shot.until && shot.from < worn.wear->until) {
              findings.add(6,
                           id,
                           phrase("wears ",
                                  production.looks[worn.wear->look].id,
                                  " in ",
                                  scene,
                                  ", which wants them as themselves"));
            }
          }
          break;
        }
      }
    }
  }
}

void check_step(const Judged& judged, const JudgedStep& step, Findings& findings) {
  const Production& production = *judged.production;
  const PlannedStep& planned = *step.planned;
  const std::string where = phrase(named(judged, planned.person, planned.look),
                                   planned.part == ChainPart::on ? " on " : " off ",
                                   planned.step);
  if (step.written == nullptr) {
    findings.add(6, where, "the chain has no such step");
    return;
  }
  if (planned.station != step.written->at) {
    findings.add(6,
                 where,
                 phrase("is at ",
                        production.stations[planned.station].id,
                        ", not at ",
                        production.stations[step.written->at].id));
  }
  const Minutes takes = planned.until - planned.from;
  if (takes != step.written->minutes) {
    findings.add(6, where, phrase("takes ", takes, " minutes, not ", step.written->minutes));
  }
  if (!step.worn) findings.add(6, where, "lies in no one stretch of that look");
}

void check_chain(const std::vector<WornStep>& steps,
                 const std::string& where,
                 const char* part,
                 Findings& findings) {
  for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
    const Minute earliest = steps[i].planned->until + steps[i].written->then_wait;
    if (steps[i + 1].planned->from < earliest) {
      findings.add(6,
                   where,
                   phrase(part,
                          " step ",
                          i + 1,
                          " starts ",
                          earliest - steps[i + 1].planned->from,
                          " minutes too early"));
    }
  }
}

/// One stretch in a look whose chains are whole: order, drying, hold, and its two ends.
void check_whole_wear(const Judged& judged, const Worn& worn, Findings& findings) {
  const Production& production = *judged.production;
  const Wear& wear = *worn.wear;
  const Look& look = production.looks[wear.look];
  const std::string where = named(judged, wear.person, wear.look);
  // Worn for nothing is told elsewhere; here its shots then lie nowhere.
  Minute first = worn.scenes.empty() ? wear.until : worn.scenes.front().shot.from;
  Minute last = worn.scenes.empty() ? wear.from : worn.scenes.front().shot.until;
  for (const WornScene& scene : worn.scenes) {
    first = std::min(first, scene.shot.from);
    last = std::max(last, scene.shot.until);
  }
  check_chain(worn.on, where, "on", findings);
  check_chain(worn.off, where, "off", findings);
  if (!worn.on.empty()) {
    const Minute on_at = worn.on.back().planned->until;
    if (first < on_at + worn.on.back().written->then_wait) {
      findings.add(6, where, "is not ready for its first scene");
    }
    for (const WornScene& scene : worn.scenes) {
      if (look.holds_for && scene.shot.until - on_at > *look.holds_for) {
        findings.add(6,
                     where,
                     phrase("is ",
                            scene.shot.until - on_at,
                            " minutes old at the end of ",
                            production.scenes[scene.scene].id,
                            " and holds for ",
                            *look.holds_for));
      }
    }
  }
  if (!worn.off.empty() && worn.off.front().planned->from < last) {
    findings.add(6, where, "comes off before its last scene has ended");
  }
  const Minute from = worn.on.empty() ? first : worn.on.front().planned->from;
  const Minute until = worn.off.empty() ? last : worn.off.back().planned->until;
  if (wear.from != from || wear.until != until) {
    findings.add(6, where, "is not worn from its first step or scene to its last");
  }
}

void check_wear(const Judged& judged, const Worn& worn, Findings& findings) {
  const std::string where = named(judged, worn.wear->person, worn.wear->look);
  if (worn.scenes.empty()) findings.add(6, where, "is worn for no scene");
  if (!worn.whole) {
    const Look& look = judged.production->looks[worn.wear->look];
    findings.add(6,
                 where,
                 phrase("has ",
                        worn.on.size(),
                        " steps on and ",
                        worn.off.size(),
                        " off; its chains are ",
                        look.steps.size(),
                        " and ",
                        look.off.size(),
                        ", each once"));
    return;
  }
  check_whole_wear(judged, worn, findings);
}

}  // namespace

void rule_6_looks(const Judged& judged, Findings& findings) {
  for (const JudgedDay& day : judged.days) {
    for (const PlannedScene& scene : day.plan->scenes) {
      check_dressed(judged, day, scene, findings);
    }
    for (const JudgedStep& step : day.steps) check_step(judged, step, findings);
    for (const auto& [who, worn] : day.worn) {
      for (std::size_t i = 0; i < worn.size(); ++i) {
        if (i > 0 && worn[i].wear->from < worn[i - 1].wear->until) {
          findings.add(6,
                       judged.production->people[who].id,
                       phrase(judged.production->looks[worn[i].wear->look].id,
                              " goes on before ",
                              judged.production->looks[worn[i - 1].wear->look].id,
                              " is off"));
        }
        check_wear(judged, worn[i], findings);
      }
    }
  }
}

namespace {

/// So many of an item more (or fewer) from a moment on.
struct Change {
  Minute at;
  int by = 0;
};

using Changes = std::map<ItemId, std::vector<Change>>;

void use(Changes& changes, ItemId item, int count, Span time) {
  changes[item].push_back({time.from, count});
  changes[item].push_back({time.until, -count});
}

/// Whether the items of a wear are the look's or stand-ins for them.
bool right_items(const Judged& judged, const Wear& wear, Findings& findings) {
  const Production& production = *judged.production;
  const auto& wanted = production.looks[wear.look].items;
  const std::string where = named(judged, wear.person, wear.look);
  if (wear.items.size() != wanted.size()) {
    findings.add(
        8, where, phrase("has ", wear.items.size(), " items, the look has ", wanted.size()));
    return false;
  }
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    const auto& stand_ins = production.items[wanted[i]].instead;
    if (wear.items[i] != wanted[i] &&
        std::find(stand_ins.begin(), stand_ins.end(), wear.items[i]) == stand_ins.end()) {
      findings.add(8,
                   where,
                   phrase(production.items[wear.items[i]].id,
                          " does not stand in for ",
                          production.items[wanted[i]].id));
    }
  }
  return true;
}

}  // namespace

void rule_8_items(const Judged& judged, Findings& findings) {
  const Production& production = *judged.production;
  for (const JudgedDay& day : judged.days) {
    Changes changes;
    for (const PlannedScene& scene : day.plan->scenes) {
      for (const Prop& prop : production.scenes[scene.scene].props) {
        use(changes, prop.item, prop.count, {scene.set_at, scene.until});
      }
    }
    for (const auto& [who, all] : day.worn) {
      for (const Worn& worn : all) {
        // From when to when a look with steps missing holds its items cannot be told: rule 6.
        if (!worn.whole || !right_items(judged, *worn.wear, findings)) continue;
        for (const ItemId item : worn.wear->items) {
          use(changes, item, 1, {worn.wear->from, worn.wear->until});
        }
      }
    }
    for (auto& [item, rows] : changes) {
      // What is given back at a moment can be taken at that moment.
      std::sort(rows.begin(), rows.end(), [](const Change& a, const Change& b) {
        return std::tie(a.at, a.by) < std::tie(b.at, b.by);
      });
      int in_use = 0;
      for (const Change& row : rows) {
        in_use += row.by;
        if (in_use > production.items[item].count) {
          findings.add(8,
                       production.items[item].id,
                       phrase(in_use,
                              " in use at ",
                              day.clock(row.at),
                              ", there are ",
                              production.items[item].count));
          break;
        }
      }
    }
  }
}

}  // namespace gp::checking
