#include "web/organiser/needs.h"

#include "casting/turnout.h"
#include "web/organiser/common.h"

#include <algorithm>

namespace gp {
namespace {

constexpr Answers kWhoMayCome{true, true};  // maybe and asked count with their own chances
constexpr double kSure = 0.9;               // a scene is thought safe from here on

/// Asking more of them: how many more of a chance like the best answer's would make it safe.
std::string more_to_ask(const Visit& visit, std::vector<Party> who, int wanted) {
  constexpr int kMost = 200;
  for (int more = 1; more <= kMost; ++more) {
    who.push_back({1, kTurnoutAsked});
    if (chance_of_enough(who, wanted) >= kSure) {
      return organiser_words(visit, "needs.ask_more", {{"count", std::int64_t{more}}});
    }
  }
  return "";
}

void set_state_of(ViewData& row, double chance) {
  row.set("STATE_CLASS", chance >= kSure ? "state-yes" : chance >= 0.5 ? "state-wait" : "state-no");
}

std::vector<std::string> names_of(const Production& production,
                                  const std::vector<PersonId>& people) {
  constexpr std::size_t kMost = 12;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < people.size() && i < kMost; ++i) {
    names.push_back(production.people[people[i]].shown());
  }
  return names;
}

void add_slot(Visit& visit,
              ViewData& scene_data,
              const Production& production,
              SceneId scene,
              const Slot& slot) {
  const std::vector<Party> who = parties(production, slot.candidates);
  const double chance = chance_of_enough(who, slot.people);
  ViewData& row = scene_data.add("SLOT");
  row.set("WHAT", slot_name(production, scene, slot))
      .set("KIND",
           organiser_words(visit,
                           slot.kind == Slot::Kind::part    ? "needs.part"
                           : slot.kind == Slot::Kind::crowd ? "needs.crowd"
                                                            : "needs.crew"))
      .set("WANTED", slot.people)
      .set("COULD", static_cast<std::int64_t>(slot.candidates.size()))
      .set("CHANCE", chance_words(visit, chance));
  set_state_of(row, chance);
  const auto names = names_of(production, slot.candidates);
  std::string who_text = listed(names);
  if (names.size() < slot.candidates.size()) who_text += " …";
  row.set("NAMES", who_text.empty() ? organiser_words(visit, "needs.nobody") : who_text);
  if (chance < kSure && slot.kind != Slot::Kind::part) {
    if (const std::string more = more_to_ask(visit, who, slot.people); !more.empty()) {
      row.add("ASK").set("TEXT", more);
    }
  }
}

HttpAnswer show_needs(Visit& visit) {
  const auto state = visit.site.book().state();
  const Production& production = *state->production;
  const Slots slots(production, kWhoMayCome);
  ViewData data;
  for (const SceneId id : production.scenes.ids()) {
    const std::vector<Slot>& of_scene = slots.of(id);
    ViewData& scene = data.add("SCENE");
    const double chance = chance_of_scene(production, of_scene);
    scene.set("NAME", production.scenes[id].shown())
        .set("SCENE_CHANCE", chance_words(visit, chance))
        .set("ANCHOR", static_cast<std::int64_t>(id.index() + 1));
    set_state_of(scene, chance);
    if (of_scene.empty()) scene.show("NOBODY_NEEDED");
    if (of_scene.empty()) continue;
    ViewData& table = scene.add("TABLE");
    for (const Slot& slot : of_scene) add_slot(visit, table, production, id, slot);
  }
  if (production.scenes.empty()) data.show("NO_SCENES");
  return visit.site.show(visit, "organiser/needs", organiser_words(visit, "needs.title"), data);
}

}  // namespace

std::string slot_name(const Production& production, SceneId scene, const Slot& slot) {
  if (slot.kind == Slot::Kind::crew) return production.crew_of(scene).at(slot.call).job;
  return production.roles[slot.role].shown();
}

std::vector<Shortage> shortages(const Production& production) {
  const Slots slots(production, kWhoMayCome);
  std::vector<Shortage> list;
  for (const SceneId scene : production.scenes.ids()) {
    for (const Slot& slot : slots.of(scene)) {
      const auto could = static_cast<int>(slot.candidates.size());
      if (could < slot.people) {
        list.push_back({scene, slot_name(production, scene, slot), slot.people, could});
      }
    }
  }
  return list;
}

void add_needs_pages(Site& site) {
  site.add({"GET", "/organise/needs", Access::organiser, show_needs});
}

}  // namespace gp
