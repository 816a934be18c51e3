// Rule 9: who plays and who helps.
#include "model/check_day.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace gp::checking {
namespace {

bool holds(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

bool can_all(const Person& person, const Tags& needs) {
  return std::all_of(
      needs.begin(), needs.end(), [&](const std::string& need) { return holds(person.can, need); });
}

bool among(const std::vector<PersonId>& people, PersonId who) {
  return std::find(people.begin(), people.end(), who) != people.end();
}

void add_refused(const Person& person,
                 const Tags& tags,
                 const std::string& scene,
                 Findings& findings) {
  for (const std::string& tag : tags) {
    if (holds(person.no, tag)) findings.add(9, scene, phrase(person.id, " will not: ", tag));
  }
}

void comes(const Judged& judged, PersonId who, const std::string& where, Findings& findings) {
  const Person& person = judged.production->people[who];
  if (!judged.answers.include(person.answer)) {
    findings.add(9, where, phrase(person.id, " has not said that they come"));
  }
}

/// Whether the person may be cast as that in the scene.
void may_play(
    const Judged& judged, PersonId who, const Scene& scene, const Role& role, Findings& findings) {
  const Production& production = *judged.production;
  const Person& person = production.people[who];
  comes(judged, who, scene.id, findings);
  if (role.person.valid()) {
    // Whoever fixed the part has asked that person: their wishes are not asked again.
    if (role.person != who) {
      findings.add(
          9,
          scene.id,
          phrase(role.id, " is ", production.people[role.person].id, "'s, not ", person.id, "'s"));
    }
    return;
  }
  if (role.from && !among(*role.from, who)) {
    findings.add(9, scene.id, phrase(person.id, " is not among those who may be ", role.id));
  }
  if (!can_all(person, role.needs)) {
    findings.add(9, scene.id, phrase(person.id, " cannot do all that ", role.id, " needs"));
  }
  add_refused(person, scene.hazards, scene.id, findings);
  add_refused(person, role.tags, scene.id, findings);
  if (role.look_kind == LookKind::look) {
    add_refused(person, production.looks[role.look].tags, scene.id, findings);
  }
}

void may_help(const Judged& judged,
              PersonId who,
              const Scene& scene,
              const std::vector<CrewCall>& calls,
              const std::string& job,
              Findings& findings) {
  const Person& person = judged.production->people[who];
  comes(judged, who, scene.id, findings);
  const bool fits = std::any_of(calls.begin(), calls.end(), [&](const CrewCall& call) {
    return call.job == job && (call.from.empty() || among(call.from, who)) &&
           can_all(person, call.needs);
  });
  if (!fits) findings.add(9, scene.id, phrase(person.id, " does not fit the job ", job));
  add_refused(person, scene.hazards, scene.id, findings);
}

/// What a scene asks for or has, by role or by job.
struct Heads {
  std::map<RoleId, int> cast;
  std::map<std::string, int> crew;
};

Heads heads_wanted(const Scene& scene, const std::vector<CrewCall>& crew) {
  Heads wanted;
  for (const CastCall& call : scene.cast) wanted.cast[call.role] += call.people;
  for (const CrewCall& call : crew) wanted.crew[call.job] += call.people;
  return wanted;
}

Heads heads_there(const PlannedScene& planned) {
  Heads there;
  for (const CastEntry& entry : planned.cast) {
    there.cast[entry.role] += static_cast<int>(entry.people.size());
  }
  for (const CrewEntry& entry : planned.crew) {
    there.crew[entry.job] += static_cast<int>(entry.people.size());
  }
  return there;
}

template <class Key>
int number(const std::map<Key, int>& heads, const Key& key) {
  const auto found = heads.find(key);
  return found == heads.end() ? 0 : found->second;
}

/// How many are short against what `unfilled` says. \return how many are short
int check_heads(int wanted, int there, int said, const std::string& where, Findings& findings) {
  const int missing = wanted - there;
  if (missing < 0) findings.add(9, where, phrase(-missing, " heads too many"));
  if (missing >= 0 && missing != said) {
    findings.add(9, where, phrase(missing, " heads short, unfilled says ", said));
  }
  return missing;
}

void check_scene(const Judged& judged,
                 const PlannedScene& planned,
                 const Heads& said,
                 Findings& findings) {
  const Production& production = *judged.production;
  const Scene& scene = production.scenes[planned.scene];
  const std::vector<CrewCall> calls = production.crew_of(planned.scene);
  std::set<PersonId> in_it;
  const auto stands = [&](PersonId who) {
    if (!in_it.insert(who).second) {
      findings.add(9, scene.id, phrase(production.people[who].id, " stands twice in it"));
    }
  };
  for (const CastEntry& entry : planned.cast) {
    for (const PersonId who : entry.people) {
      may_play(judged, who, scene, production.roles[entry.role], findings);
      stands(who);
    }
  }
  for (const CrewEntry& entry : planned.crew) {
    for (const PersonId who : entry.people) {
      may_help(judged, who, scene, calls, entry.job, findings);
      stands(who);
    }
  }
  const Heads wanted = heads_wanted(scene, calls);
  const Heads there = heads_there(planned);
  for (const auto& [role, heads] : wanted.cast) {
    const std::string where = phrase(scene.id, ".", production.roles[role].id);
    const int missing =
        check_heads(heads, number(there.cast, role), number(said.cast, role), where, findings);
    if (missing > 0 && !production.roles[role].crowd) {
      findings.add(9, where, "is filmed without one of its parts");
    }
  }
  for (const auto& [job, heads] : wanted.crew) {
    check_heads(heads,
                number(there.crew, job),
                number(said.crew, job),
                phrase(scene.id, ".", job),
                findings);
  }
  for (const auto& [role, heads] : there.cast) {
    if (!wanted.cast.contains(role)) {
      findings.add(9, phrase(scene.id, ".", production.roles[role].id), "is not asked for");
    }
  }
  for (const auto& [job, heads] : there.crew) {
    if (!wanted.crew.contains(job)) {
      findings.add(9, phrase(scene.id, ".", job), "is not asked for");
    }
  }
}

/// A part is played by one person, on every day.
void check_parts(const Judged& judged, Findings& findings) {
  const Production& production = *judged.production;
  std::map<RoleId, std::set<PersonId>> players;
  for (const JudgedDay& day : judged.days) {
    for (const PlannedScene& planned : day.plan->scenes) {
      for (const CastEntry& entry : planned.cast) {
        if (production.roles[entry.role].crowd) continue;
        players[entry.role].insert(entry.people.begin(), entry.people.end());
      }
    }
  }
  for (const auto& [role, people] : players) {
    if (people.size() < 2) continue;
    std::string names;
    for (const PersonId who : people) {
      names += (names.empty() ? "" : ", ") + production.people[who].id;
    }
    findings.add(9, production.roles[role].id, phrase("one part is played by ", names));
  }
}

}  // namespace

void rule_9_casting(const Judged& judged, Findings& findings) {
  const Production& production = *judged.production;
  std::map<SceneId, Heads> said;
  for (const Unfilled& entry : judged.plan->unfilled) {
    Heads& heads = said[entry.scene];
    if (entry.role.valid()) {
      heads.cast[entry.role] += entry.missing;
    } else {
      heads.crew[entry.job] += entry.missing;
    }
    if (entry.why.empty()) {
      findings.add(9, production.scenes[entry.scene].id, "is unfilled, and no reason is given");
    }
  }
  check_parts(judged, findings);
  for (const JudgedDay& day : judged.days) {
    for (const PlannedScene& planned : day.plan->scenes) {
      check_scene(judged, planned, said[planned.scene], findings);
    }
    for (const JudgedStep& step : day.steps) {
      if (step.written == nullptr || !step.planned->by.valid()) continue;
      comes(judged,
            step.planned->by,
            phrase(production.people[step.planned->person].id,
                   "'s ",
                   production.looks[step.planned->look].id),
            findings);
    }
  }
}

}  // namespace gp::checking
