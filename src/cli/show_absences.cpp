#include "cli/show_absences.h"

#include "base/json_writer.h"
#include "cli/commands/commands.h"
#include "cli/flow.h"
#include "cli/show_asking.h"
#include "text/width.h"

#include <vector>

namespace gp {
namespace {

using absence::Duty;
using absence::SturdyPlan;

std::string what_of(const Production& production, const Duty& duty) {
  std::string text = production.people[duty.person].shown() + ", ";
  switch (duty.kind) {
    case Duty::Kind::part:
    case Duty::Kind::crowd:
      text += production.roles[duty.role].shown();
      break;
    case Duty::Kind::crew:
      text += duty.job;
      break;
    case Duty::Kind::helper:
      text += duty.job + " at " + production.stations[duty.station].shown();
      break;
  }
  if (duty.kind == Duty::Kind::crowd || duty.kind == Duty::Kind::crew) {
    text += " in " + production.scenes[duty.scenes.front()].shown();
  }
  return text;
}

std::string stand_ins_of(const Production& production, const Duty& duty) {
  constexpr std::size_t kMost = 3;
  if (duty.stand_ins.empty()) return "nobody";
  std::string text;
  for (std::size_t i = 0; i < duty.stand_ins.size() && i < kMost; ++i) {
    text += (i == 0 ? "" : ", ") + production.people[duty.stand_ins[i]].shown();
  }
  if (duty.stand_ins.size() > kMost) {
    text += " and " + std::to_string(duty.stand_ins.size() - kMost) + " more";
  }
  return text;
}

std::string kind_name(Duty::Kind kind) {
  switch (kind) {
    case Duty::Kind::part:
      return "part";
    case Duty::Kind::crowd:
      return "crowd";
    case Duty::Kind::crew:
      return "crew";
    case Duty::Kind::helper:
      break;
  }
  return "helper";
}

void write_likelihood(JsonWriter& out, const Likelihood& likelihood) {
  out.key("chance").number(likelihood.chance).key("exact").boolean(likelihood.exact);
  out.key("standard_error").number(likelihood.error);
}

}  // namespace

std::string show_absences(const Production& production,
                          const SturdyPlan& sturdy,
                          const View& view) {
  std::string text = "\n" + view.paint.heading("If people stay away") + "\n";
  const auto say = [&](const std::string& words) {
    text += "  " + flow_text(harmless(words), 4, view.columns) + "\n";
  };
  say("Every scene that is planned is filmed, with the stand-ins below: at least " +
      chance_text(sturdy.survival.all_filmed) + ".");
  say("The plan without --expect-absences: " + chance_text(sturdy.ordinary_chance) + ", " +
      length_text(sturdy.ordinary.on_site) +
      " on site; this one: " + length_text(sturdy.plan.totals.on_site) + ". Chosen from " +
      counted(static_cast<std::size_t>(sturdy.compared), "plan", "plans") + ".");
  say("No plan can do better than " + chance_text(sturdy.at_most) +
      ": whoever is the only one for a part or a skill must come.");
  if (!sturdy.survival.scenes.empty()) {
    const auto& first = sturdy.survival.scenes.front();
    say("Fails first: " + production.scenes[first.scene].shown() + ", filmed with a chance of " +
        chance_text(first.filmed) + ".");
  }
  say("Crowds and crew may be short in a scene that is filmed.");
  text += "\n" + view.paint.heading("Stand-ins") + "\n";
  for (const Duty& duty : sturdy.survival.duties) {
    say(what_of(production, duty) + ": " + stand_ins_of(production, duty));
  }
  return text;
}

std::string write_absences(const Production& production, const SturdyPlan& sturdy) {
  JsonWriter out;
  out.begin_object();
  out.key("greasepaint_absences").number(std::int64_t{1}).key("title").text(production.title);
  out.key("compared").number(std::int64_t{sturdy.compared});
  out.key("all_filmed").begin_object(JsonLayout::compact);
  write_likelihood(out, sturdy.survival.all_filmed);
  out.end_object().key("ordinary").begin_object(JsonLayout::compact);
  write_likelihood(out, sturdy.ordinary_chance);
  out.key("on_site").number(sturdy.ordinary.on_site).end_object();
  out.key("on_site").number(sturdy.plan.totals.on_site).key("at_most").number(sturdy.at_most);
  out.key("scenes").begin_list();
  for (const auto& scene : sturdy.survival.scenes) {
    out.begin_object(JsonLayout::compact).key("scene").text(production.scenes[scene.scene].id);
    write_likelihood(out, scene.filmed);
    out.end_object();
  }
  out.end_list().key("duties").begin_list();
  for (const Duty& duty : sturdy.survival.duties) {
    out.begin_object(JsonLayout::compact).key("kind").text(kind_name(duty.kind));
    out.key("person").text(production.people[duty.person].id);
    if (duty.role.valid()) out.key("role").text(production.roles[duty.role].id);
    if (!duty.job.empty()) out.key("job").text(duty.job);
    if (duty.station.valid()) out.key("station").text(production.stations[duty.station].id);
    std::vector<std::string> scenes;
    for (const SceneId id : duty.scenes) scenes.push_back(production.scenes[id].id);
    std::vector<std::string> stand_ins;
    for (const PersonId id : duty.stand_ins) stand_ins.push_back(production.people[id].id);
    out.key("scenes").texts(scenes).key("stand_ins").texts(stand_ins).end_object();
  }
  out.end_list().end_object();
  return out.finish();
}

}  // namespace gp
