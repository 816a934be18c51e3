#include "explain/why/scene_room.h"
#include "explain/why/why.h"
#include "explain/why/why_day.h"

#include <string>

namespace gp {
namespace {

using why::PlannedDay;

std::string clauses(const std::vector<WhyCause>& causes) {
  std::string text;
  constexpr std::size_t kMost = 6;
  for (const std::string& clause : why::clauses_of(causes, kMost)) {
    text += (text.empty() ? "" : "; ") + clause;
  }
  return text;
}

std::string room_text(const WhyRoom& room, const std::string& way) {
  if (room.causes.empty()) return "It could be as much " + way + " as the day allows.";
  if (room.room == Minutes{0}) return "It cannot be " + way + ": " + clauses(room.causes) + ".";
  return "It could be " + why::minutes_text(room.room) + " " + way +
         " with its cast and crew, but no more: " + clauses(room.causes) + ".";
}

}  // namespace

WhyScene why_scene(const Production& film, const Plan& plan, Answers answers, SceneId scene) {
  WhyScene found;
  found.scene = scene;
  for (std::size_t i = 0; i < plan.days.size(); ++i) {
    for (std::size_t k = 0; k < plan.days[i].scenes.size(); ++k) {
      if (plan.days[i].scenes[k].scene != scene) continue;
      const PlannedDay day(film, plan, i, answers);
      found.day = plan.days[i].day;
      found.planned = plan.days[i].scenes[k];
      found.earlier = room_of_scene(day, k, why::Way::earlier);
      found.later = room_of_scene(day, k, why::Way::later);
      found.text = room_text(found.earlier, "earlier") + " " + room_text(found.later, "later");
      return found;
    }
  }
  for (const NotFilmed& lost : plan.not_filmed) {
    if (lost.scene == scene) found.not_filmed = lost.why;
  }
  if (found.not_filmed.empty()) found.not_filmed = "the plan says no reason";
  return found;
}

}  // namespace gp
