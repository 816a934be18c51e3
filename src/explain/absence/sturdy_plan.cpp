#include "explain/absence/sturdy_plan.h"

#include <algorithm>
#include <chrono>
#include <set>
#include <utility>
#include <vector>

namespace gp::absence {
namespace {

/// What trials may cost above the limit: with so little work they are dearer than they need be.
constexpr double kTrialSlack = 1.05;
/// Of a given time, the ordinary plan gets this share, and the last one this.
constexpr double kOrdinaryShare = 0.45;
constexpr double kLastShare = 0.4;

struct Candidate {
  Plan plan;
  Price price;
  Survival survival;  ///< of trials only what decides
  Steer steer;

  [[nodiscard]] double chance() const { return survival.all_filmed.chance; }
};

double share_more(double now, double before) {
  if (now <= before) return 0;
  return before <= 0 ? 1e9 : now / before - 1;
}

/// How much dearer than another, as a share of what that costs.
double dearer(const Price& price, const Price& than, Aim aim) {
  const double time = share_more(static_cast<double>(price.weighted_on_site),
                                 static_cast<double>(than.weighted_on_site));
  if (aim != Aim::latest_first_call) return time;
  return std::max(time,
                  share_more(static_cast<double>(price.span), static_cast<double>(than.span)));
}

/// Whether a plan leaves nothing out that the ordinary one does not. The reasons are taken from
/// there: those of a steered plan speak of people who were only kept free.
bool does_as_much(Plan& plan, const Plan& ordinary) {
  for (NotFilmed& row : plan.not_filmed) {
    const auto same = std::find_if(ordinary.not_filmed.begin(),
                                   ordinary.not_filmed.end(),
                                   [&](const NotFilmed& o) { return o.scene == row.scene; });
    if (same == ordinary.not_filmed.end()) return false;
    row.why = same->why;
  }
  for (Unfilled& row : plan.unfilled) {
    const auto same =
        std::find_if(ordinary.unfilled.begin(), ordinary.unfilled.end(), [&](const Unfilled& o) {
          return o.scene == row.scene && o.role == row.role && o.job == row.job;
        });
    if (same == ordinary.unfilled.end() || same->missing < row.missing) return false;
    row.why = same->why;
  }
  return true;
}

/// The bound of a steered plan says nothing of the production itself; the ordinary plan's does,
/// where the same is filmed and filled.
void take_bound(Plan& plan, const Plan& ordinary, const Price& price, Aim aim) {
  plan.totals.bound.reset();
  plan.totals.proven = false;
  const Thousandths value =
      aim == Aim::least_time ? price.weighted_on_site : price.span * Thousandths{1000};
  if (!ordinary.totals.bound || *ordinary.totals.bound > value ||
      plan.not_filmed != ordinary.not_filmed || plan.unfilled != ordinary.unfilled) {
    return;
  }
  plan.totals.bound = ordinary.totals.bound;
  plan.totals.proven = *plan.totals.bound == value;
}

std::optional<double> share_of(const std::optional<double>& seconds, double share) {
  if (!seconds) return std::nullopt;
  return *seconds * share;
}

class Search {
 public:
  Search(const Production& production,
         const Wishes& wishes,
         Stop& stop,
         const ProgressSink& progress,
         double most_more)
      : production_(production),
        wishes_(wishes),
        stop_(stop),
        progress_(progress),
        most_more_(most_more) {}

  SturdyPlan run() {
    begin_ = Stop::Clock::now();
    Wishes first = wishes_;
    first.seconds = share_of(wishes_.seconds, kOrdinaryShare);
    Stop own = stop_.within(first.seconds);
    ordinary_.plan = make_plan(production_, first, own, progress_);
    ordinary_.price = price(production_, ordinary_.plan);
    SturdyPlan result;
    ordinary_.survival = survival_of(production_, ordinary_.plan, wishes_.answers);
    result.survival = ordinary_.survival;
    result.ordinary = ordinary_.price;
    result.ordinary_chance = ordinary_.survival.all_filmed;
    result.at_most = irreplaceable_chance(production_, ordinary_.plan, wishes_.answers);
    good_.push_back(ordinary_);
    const Candidate found = climb(result.at_most);
    if (!found.steer.empty() && !stop_.now_exactly()) {
      Wishes last = wishes_;
      last.seconds = share_of(wishes_.seconds, kLastShare);
      Stop own_last = stop_.within(last.seconds);
      Candidate made = attempt(found.steer, last, own_last);
      if (worth_a_look(made, 1)) good_.push_back(std::move(made));
    }
    const Candidate& chosen = best();
    if (&chosen != &good_.front()) {
      result.survival = survival_of(production_, chosen.plan, wishes_.answers);
    }
    result.plan = chosen.plan;
    result.plan.totals.seconds = std::chrono::duration<double>(Stop::Clock::now() - begin_).count();
    result.steer = chosen.steer;
    result.compared = compared_;
    return result;
  }

 private:
  Candidate attempt(const Steer& steer, const Wishes& wishes, Stop& stop) {
    Candidate made;
    made.steer = steer;
    made.plan = make_plan(steered(production_, steer), wishes, stop);
    made.price = price(production_, made.plan);
    ++compared_;
    return made;
  }

  /// Whether it does as much, is right and costs no more than it may; then its survival is known.
  bool worth_a_look(Candidate& made, double slack) {
    if (!does_as_much(made.plan, ordinary_.plan) ||
        1 + dearer(made.price, ordinary_.price, production_.aim) >
            (1 + most_more_) * slack + 1e-9 ||
        !check(production_, made.plan, wishes_.answers).empty()) {
      return false;
    }
    take_bound(made.plan, ordinary_.plan, made.price, production_.aim);
    made.survival = short_survival_of(production_, made.plan, wishes_.answers);
    return true;
  }

  Candidate climb(double at_most) {
    Candidate now = ordinary_;
    std::set<Steer> tried;
    Wishes trial = wishes_;
    trial.effort = wishes_.effort * kTrialEffort;
    trial.seconds.reset();
    Stop own = stop_.within(share_of(wishes_.seconds, 1 - kOrdinaryShare - kLastShare));
    bool better_found = true;
    while (better_found && now.chance() < at_most - kSmallLoss) {
      better_found = false;
      for (const Steer& step :
           next_steps(production_, now.plan, now.survival, now.steer, wishes_.answers)) {
        if (compared_ > kMostTrials || own.now_exactly()) return now;
        if (!tried.insert(step).second) continue;
        Candidate made = attempt(step, trial, own);
        tell();
        if (own.now_exactly()) return now;
        if (!worth_a_look(made, kTrialSlack)) continue;
        if (made.chance() <= now.chance() + kSmallLoss) continue;
        if (dearer(made.price, ordinary_.price, production_.aim) <= most_more_ + 1e-9) {
          good_.push_back(made);
        }
        now = std::move(made);
        better_found = true;
        break;
      }
    }
    return now;
  }

  const Candidate& best() const {
    double likeliest = 0;
    for (const Candidate& one : good_) likeliest = std::max(likeliest, one.chance());
    const Candidate* chosen = nullptr;
    for (const Candidate& one : good_) {
      if (one.chance() < likeliest - kSmallLoss) continue;
      if (chosen == nullptr || better(one.price, chosen->price, production_.aim)) chosen = &one;
    }
    return *chosen;
  }

  void tell() {
    if (!progress_) return;
    Progress told;
    told.best = ordinary_.price;
    told.share = std::min(1.0, static_cast<double>(compared_) / (kMostTrials + 1));
    told.seconds = std::chrono::duration<double>(Stop::Clock::now() - begin_).count();
    progress_(told);
  }

  const Production& production_;
  const Wishes& wishes_;
  Stop& stop_;
  const ProgressSink& progress_;
  double most_more_;
  Stop::Clock::time_point begin_;
  int compared_ = 1;
  Candidate ordinary_;
  std::vector<Candidate> good_;  ///< right, and within what they may cost; the ordinary one first
};

}  // namespace

SturdyPlan plan_for_absences(const Production& production,
                             const Wishes& wishes,
                             Stop& stop,
                             const ProgressSink& progress,
                             double most_more) {
  return Search(production, wishes, stop, progress, most_more).run();
}

}  // namespace gp::absence
