#include "explain/conflict/conflicts.h"

#include "explain/conflict/facts.h"
#include "explain/conflict/least_change.h"
#include "explain/conflict/smallest.h"
#include "explain/conflict/together.h"
#include "explain/conflict/words.h"

#include <algorithm>

namespace gp {
namespace conflict {
namespace {

/// Questions asked for one conflict at most.
constexpr std::size_t kMostAsked = 4000;
/// Placements tried for all questions of one conflict, the first apart.
constexpr std::uint64_t kMostWork = 6'000'000;

/// The production with that scene as its only one.
Production only_scene(const Production& film, SceneId scene) {
  Production alone = film;
  alone.scenes = Table<SceneId, Scene>();
  Scene only = film.scenes[scene];
  only.after.clear();
  alone.scenes.add(std::move(only));
  return alone;
}

class OneConflict {
 public:
  OneConflict(const Production& film, const Wishes& wishes, const Plan& plan, Stop& stop)
      : film_(film), wishes_(wishes), plan_(plan), stop_(stop) {}

  Conflict of(SceneId scene, RoleId role, const std::string& job) {
    const bool whole = !role.valid() && job.empty();
    Conflict conflict;
    conflict.scene = scene;
    conflict.role = role;
    conflict.job = job;
    const Production alone = only_scene(film_, scene);
    Terms terms;
    terms.answers = wishes_.answers;
    terms.only_day = wishes_.only_day;
    const FactGround ground{&alone, {SceneId(0), role, job}, terms, scene.index()};
    Answered asked = film_alone(alone, ground.question, terms, stop_);
    if (asked.verdict == Verdict::unknown) asked.verdict = planned_alone(alone, ground.question);
    switch (asked.verdict) {
      case Verdict::impossible:
        conflict.obstacle = whole ? Obstacle::scene : Obstacle::heads;
        conflict.proven = true;
        explain_alone(ground, conflict);
        break;
      case Verdict::possible:
        conflict.obstacle = Obstacle::together;
        explain_together(film_, wishes_, plan_, ground, stop_, conflict);
        break;
      case Verdict::unknown:
        break;
    }
    conflict.text = conflict_text(film_, conflict);
    return conflict;
  }

 private:
  /// Where the search ended undecided: what the planner finds for the scene alone.
  Verdict planned_alone(const Production& alone, const Question& question) {
    Wishes wishes = wishes_;
    wishes.seconds.reset();
    wishes.threads = 1;
    wishes.effort = 0.1;
    const Plan plan = make_plan(alone, wishes, stop_);
    if (!plan.not_filmed.empty()) return Verdict::unknown;
    for (const Unfilled& row : plan.unfilled) {
      if (question.role.valid() && row.role == question.role) return Verdict::unknown;
      if (!question.job.empty() && row.job == question.job) return Verdict::unknown;
    }
    return check(alone, plan, wishes.answers).empty() ? Verdict::possible : Verdict::unknown;
  }

  void explain_alone(const FactGround& ground, Conflict& conflict) {
    const std::vector<Fact> facts = facts_of(ground);
    std::uint64_t work = 0;
    const auto ask = [&](const Production& film) {
      if (work > kMostWork) return Verdict::unknown;
      Terms terms = ground.terms;
      // What is far from settled is not worth much each time.
      terms.most_work = 50'000;
      const Answered answered = film_alone(film, ground.question, terms, stop_);
      work += answered.work;
      return answered.verdict;
    };
    const auto oracle = [&](const InForce& in_force) {
      Production loose = *ground.film;
      for (std::size_t f = 0; f < facts.size(); ++f) {
        if (in_force[f] == 0) facts[f].relax(loose);
      }
      return ask(loose);
    };
    SmallestFinder finder(facts.size(), oracle, kMostAsked, stop_);
    if (finder.ask(InForce(facts.size(), 0)) != Verdict::possible) {
      return;  // not even without all of them: the text says so
    }
    const SmallestSet set = finder.find();
    conflict.smallest = set.smallest;
    bool some_enough = false;
    for (std::size_t i = 0; i < set.facts.size(); ++i) {
      conflict.facts.push_back(least_change(facts[set.facts[i]], *ground.film, ask));
      conflict.facts.back().needed = set.needed[i] != 0;
      some_enough = some_enough || conflict.facts.back().enough;
    }
    if (some_enough) return;
    for (const std::size_t fact : finder.loosen_together(set.facts)) {
      conflict.together.push_back(facts[fact].wholly);
    }
  }

  const Production& film_;
  const Wishes& wishes_;
  const Plan& plan_;
  Stop& stop_;
};

}  // namespace
}  // namespace conflict

Conflicts conflicts_of_scene(const Production& production,
                             const Wishes& wishes,
                             const Plan& plan,
                             SceneId scene,
                             Stop& stop) {
  Plan only = plan;
  std::erase_if(only.not_filmed, [&](const NotFilmed& row) { return row.scene != scene; });
  std::erase_if(only.unfilled, [&](const Unfilled& row) { return row.scene != scene; });
  return conflicts_of(production, wishes, only, stop);
}

Conflicts conflicts_of(const Production& production,
                       const Wishes& wishes,
                       const Plan& plan,
                       Stop& stop,
                       const ConflictProgress& progress) {
  Conflicts conflicts;
  conflict::OneConflict one(production, wishes, plan, stop);
  const std::size_t of = plan.not_filmed.size() + plan.unfilled.size();
  const auto begin = [&] {
    if (progress) progress(conflicts.all.size(), of);
    conflicts.stopped = conflicts.stopped || stop.now_exactly();
    return !conflicts.stopped;
  };
  for (const NotFilmed& row : plan.not_filmed) {
    if (!begin()) return conflicts;
    conflicts.all.push_back(one.of(row.scene, RoleId(), {}));
  }
  for (const Unfilled& row : plan.unfilled) {
    if (!begin()) return conflicts;
    conflicts.all.push_back(one.of(row.scene, row.role, row.job));
  }
  conflicts.stopped = stop.now_exactly();
  return conflicts;
}

}  // namespace gp
