#include "explain/conflict/together.h"

#include "explain/conflict/least_change.h"
#include "explain/conflict/one_machine.h"
#include "explain/conflict/smallest.h"

#include <algorithm>

namespace gp::conflict {
namespace {

/// Each question is a plan of its own.
constexpr std::size_t kMostPlans = 400;
constexpr double kEffort = 0.05;

class Together {
 public:
  Together(const Production& film,
           const Wishes& wishes,
           const Plan& plan,
           const FactGround& ground,
           Stop& stop)
      : film_(film), wishes_(wishes), ground_(ground), stop_(stop), kept_(film.scenes.size(), 0) {
    for (const DayPlan& day : plan.days) {
      for (const PlannedScene& scene : day.scenes) kept_[scene.scene.index()] = 1;
    }
    self_ = SceneId(ground.scene_number);
    kept_[self_.index()] = 1;
    for (const Unfilled& row : plan.unfilled) {
      if (row.scene != self_) short_now_ += row.missing;
    }
    wishes_.seconds.reset();
    wishes_.threads = 1;
  }

  void explain(Conflict& conflict) {
    gather();
    const Production whole = with(std::vector<char>(others_.size() + after_.size(), 1));
    wishes_.effort = 0.3;
    if (ask(whole) == Verdict::possible) return;  // the plan was not the best there is
    wishes_.effort = kEffort;
    const auto oracle = [&](const InForce& in_force) {
      Production film = with(in_force);
      const std::size_t first = others_.size() + after_.size();
      for (std::size_t f = first; f < facts_.size(); ++f) {
        if (in_force[f] == 0) facts_[f].relax(film);
      }
      return ask(film);
    };
    SmallestFinder finder(facts_.size(), oracle, kMostPlans, stop_);
    if (finder.ask(InForce(facts_.size(), 0)) != Verdict::possible) return;
    const SmallestSet set = finder.find();
    InForce in_force(facts_.size(), 0);
    for (const std::size_t fact : set.facts) in_force[fact] = 1;
    Production least = with(in_force);
    for (std::size_t f = others_.size() + after_.size(); f < facts_.size(); ++f) {
      if (in_force[f] == 0) facts_[f].relax(least);
    }
    conflict.proven = !heads() && proven_too_much(least, ground_.terms);
    bool some_enough = false;
    for (std::size_t i = 0; i < set.facts.size(); ++i) {
      const std::size_t fact = set.facts[i];
      ConflictFact told;
      if (fact < others_.size() + after_.size()) {
        std::vector<char> rest(others_.size() + after_.size(), 1);
        rest[fact] = 0;
        told.path = facts_[fact].path;
        told.words = facts_[fact].words;
        told.change = facts_[fact].wholly;
        told.enough = ask(with(rest)) == Verdict::possible;
      } else {
        told = least_change(facts_[fact], whole, [&](const Production& film) { return ask(film); });
      }
      told.needed = set.needed[i] != 0;
      some_enough = some_enough || told.enough;
      conflict.facts.push_back(std::move(told));
    }
    conflict.smallest = set.smallest && conflict.proven;
    if (some_enough) return;
    for (const std::size_t fact : finder.loosen_together(set.facts)) {
      conflict.together.push_back(facts_[fact].wholly);
    }
  }

 private:
  struct Order {
    SceneId later, earlier;
  };

  [[nodiscard]] bool heads() const {
    return ground_.question.role.valid() || !ground_.question.job.empty();
  }

  /// The other scenes, what comes after what, then what is written of this scene, its day and its
  /// people's time.
  void gather() {
    const std::string name = film_.scenes[self_].shown();
    const auto none = [](Production&) {};
    for (const SceneId scene : film_.scenes.ids()) {
      if (scene == self_ || kept_[scene.index()] == 0) continue;
      others_.push_back(scene);
      facts_.push_back({entry_path("scenes", scene.index()),
                        film_.scenes[scene].shown() + " is filmed too",
                        none,
                        "if " + film_.scenes[scene].shown() + " were left out",
                        0,
                        {},
                        {},
                        true});
    }
    for (const SceneId later : film_.scenes.ids()) {
      for (std::size_t a = 0; a < film_.scenes[later].after.size(); ++a) {
        const SceneId earlier = film_.scenes[later].after[a];
        if (later != self_ && earlier != self_) continue;
        if (kept_[later.index()] == 0 || kept_[earlier.index()] == 0) continue;
        after_.push_back({later, earlier});
        facts_.push_back(
            {key_path(entry_path("scenes", later.index()), entry_path("after", a)),
             film_.scenes[later].shown() + " comes after " + film_.scenes[earlier].shown(),
             none,
             "if " + film_.scenes[later].shown() + " need not come after " +
                 film_.scenes[earlier].shown(),
             0,
             {},
             {},
             true});
      }
    }
    for (Fact& fact : facts_of(ground_)) {
      const bool when = fact.path.starts_with("scenes[") || fact.path.starts_with("days[") ||
                        fact.path.starts_with("people[") || fact.path.starts_with("items[");
      if (when) facts_.push_back(std::move(fact));
    }
  }

  /// This scene first, then those others that are in force.
  [[nodiscard]] Production with(const std::vector<char>& in_force) const {
    std::vector<SceneId> scenes = {self_};
    for (std::size_t i = 0; i < others_.size(); ++i) {
      if (in_force[i] != 0) scenes.push_back(others_[i]);
    }
    Production film = film_;
    film.scenes = Table<SceneId, Scene>();
    for (const SceneId scene : scenes) {
      Scene row = film_.scenes[scene];
      row.after.clear();
      for (const SceneId earlier : film_.scenes[scene].after) {
        const auto at = std::find(scenes.begin(), scenes.end(), earlier);
        if (at == scenes.end()) continue;
        bool holds = true;
        for (std::size_t a = 0; a < after_.size(); ++a) {
          if (after_[a].later == scene && after_[a].earlier == earlier) {
            holds = in_force[others_.size() + a] != 0;
          }
        }
        if (holds) row.after.emplace_back(static_cast<std::size_t>(at - scenes.begin()));
      }
      film.scenes.add(std::move(row));
    }
    return film;
  }

  /// A plan with all of them, this scene full where that is asked, and no fewer heads elsewhere; or
  /// no way was found.
  Verdict ask(const Production& film) {
    if (stop_.now()) return Verdict::unknown;
    const Plan plan = make_plan(film, wishes_, stop_);
    if (!plan.not_filmed.empty()) return Verdict::impossible;
    int short_then = 0;
    for (const Unfilled& row : plan.unfilled) {
      if (row.scene != SceneId(0)) {
        short_then += row.missing;
      } else if ((row.role.valid() && row.role == ground_.question.role) ||
                 (!row.role.valid() && row.job == ground_.question.job)) {
        return Verdict::impossible;
      }
    }
    if (heads() && short_then > short_now_) return Verdict::impossible;
    return check(film, plan, wishes_.answers).empty() ? Verdict::possible : Verdict::unknown;
  }

  const Production& film_;
  Wishes wishes_;
  const FactGround& ground_;
  Stop& stop_;
  std::vector<char> kept_;
  SceneId self_;
  int short_now_ = 0;
  std::vector<SceneId> others_;
  std::vector<Order> after_;
  std::vector<Fact> facts_;
};

}  // namespace

void explain_together(const Production& film,
                      const Wishes& wishes,
                      const Plan& plan,
                      const FactGround& ground,
                      Stop& stop,
                      Conflict& conflict) {
  Together(film, wishes, plan, ground, stop).explain(conflict);
}

}  // namespace gp::conflict
