#include "search/notes.h"

#include "base/nearest.h"
#include "model/hazards.h"
#include "search/reason_words.h"

#include <algorithm>

namespace gp {
namespace {

void note_refusals(const Problem& problem, Plan& plan) {
  const Production& film = problem.production;
  const ReasonWords words(problem);
  for (RoleId id : film.roles.ids()) {
    const Role& role = film.roles[id];
    if (role.crowd || !role.person.valid()) continue;
    Tags asked = role.tags;
    for (SceneId scene : problem.slots.scenes_of(id)) {
      const Tags tags = words.tags_for(role, scene);
      asked.insert(asked.end(), tags.begin(), tags.end());
    }
    const Person& person = film.people[role.person];
    for (const std::string& tag : person.no) {
      if (std::find(asked.begin(), asked.end(), tag) == asked.end()) continue;
      plan.notes.push_back({"warning",
                            "people." + person.id,
                            person.shown() + " plays " + role.shown() + ", which asks for \"" +
                                tag +
                                "\", and has said no to that: ask again, or give the part to "
                                "somebody else."});
    }
  }
}

const Stay* stay_of_person(const DayPlan& day, PersonId who) {
  const auto found = std::find_if(
      day.people.begin(), day.people.end(), [&](const Stay& stay) { return stay.person == who; });
  return found == day.people.end() ? nullptr : &*found;
}

void note_guardians(const Problem& problem, std::size_t d, Plan& plan) {
  const Production& film = problem.production;
  const ReasonWords words(problem);
  const DayPlan& day = plan.days[d];
  for (const Stay& child : day.people) {
    const Person& person = film.people[child.person];
    if (!person.guardian.valid()) continue;
    const Stay* guardian = stay_of_person(day, person.guardian);
    if (guardian != nullptr && guardian->call <= child.call &&
        child.released <= guardian->released) {
      continue;
    }
    const std::string& name = film.people[person.guardian].shown();
    plan.notes.push_back(
        {"warning",
         "people." + person.id,
         person.shown() + " is on site " + words.span(d, {child.call, child.released}) +
             words.on_date(d) + "; " + name + ", the guardian, is " +
             (guardian == nullptr ? std::string("not called that day")
                                  : words.span(d, {guardian->call, guardian->released})) +
             ": somebody named must be with them, as local rules ask."});
  }
}

/// A hazard that is not known brings no cautions: right for a word of one's own, wrong for a slip.
void note_hazards(const Problem& problem, Plan& plan) {
  const auto& known = known_hazards();
  const Production& film = problem.production;
  for (SceneId id : film.scenes.ids()) {
    for (const std::string& hazard : film.scenes[id].hazards) {
      if (std::find(known.begin(), known.end(), hazard) != known.end()) continue;
      const std::string near = nearest(hazard, known);
      plan.notes.push_back({near.empty() ? "hint" : "warning",
                            "scenes." + film.scenes[id].id,
                            "No cautions are printed for the hazard \"" + hazard +
                                "\", for it is none of those known" +
                                (near.empty() ? "." : "; is it \"" + near + "\"?")});
    }
  }
}

}  // namespace

void give_notes(const Problem& problem, Plan& plan) {
  note_refusals(problem, plan);
  note_hazards(problem, plan);
  for (std::size_t d = 0; d < plan.days.size(); ++d) note_guardians(problem, d, plan);
}

}  // namespace gp
