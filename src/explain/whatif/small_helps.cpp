#include "explain/whatif/small_helps.h"

#include "explain/whatif/friends.h"
#include "model/day_frame.h"

#include <algorithm>
#include <set>
#include <tuple>

namespace gp::whatif {
namespace {

constexpr Minutes kHalfHour{30};
constexpr Minutes kQuicker{5};
constexpr Minutes kShortChain{10};
/// At each end, people whose hours press most.
constexpr std::size_t kMostPressed = 5;

/// All the changes, as they are found.
class Helps {
 public:
  Helps(const Production& production, const Plan& plan, Answers answers, std::optional<DayId> day)
      : production_(production), plan_(plan), answers_(answers), only_day_(day) {}

  std::vector<Change> take() {
    chairs();
    friends();
    answers();
    items();
    looks();
    stations();
    people();
    days();
    return std::move(all_);
  }

 private:
  void chairs() {
    std::set<StationId> used;
    for (const Look& look : production_.looks) {
      for (const Step& step : look.steps) used.insert(step.at);
      for (const Step& step : look.off) used.insert(step.at);
    }
    for (const StationId station : production_.stations.ids()) {
      if (used.contains(station)) all_.emplace_back(Chairs{station, {true, 1}});
    }
  }

  /// What a friend adds: two with the same would be the same friend.
  using Adds = std::tuple<Tags, std::vector<StationId>, std::vector<RoleId>, Tags>;
  [[nodiscard]] Adds adds(const Friends& friends) const {
    Adds adds;
    std::get<0>(adds) = friends.skills;
    std::sort(std::get<0>(adds).begin(), std::get<0>(adds).end());
    for (const StationId station : friends.stations) {
      if (production_.stations[station].staff) std::get<1>(adds).push_back(station);
    }
    for (const RoleId role : friends.roles) {
      if (production_.roles[role].from) std::get<2>(adds).push_back(role);
    }
    for (const CrewCall* call : all_crew(production_)) {
      if (call->from.empty()) continue;
      if (std::find(friends.jobs.begin(), friends.jobs.end(), call->job) != friends.jobs.end()) {
        std::get<3>(adds).push_back(call->job);
      }
    }
    return adds;
  }

  void friends() {
    std::vector<std::string> purposes = {""};
    for (const std::string& purpose : friend_purposes(production_)) purposes.push_back(purpose);
    std::set<Adds> known;
    for (const std::string& purpose : purposes) {
      const std::optional<Friends> one = friends_for(production_, purpose);
      if (one && is_wanted(*one) && known.insert(adds(*one)).second) all_.emplace_back(*one);
    }
  }

  /// Somebody has many skills that this film never asks for.
  [[nodiscard]] bool is_wanted(const Friends& friends) const {
    std::set<std::string> asked;
    for (const Role& role : production_.roles) asked.insert(role.needs.begin(), role.needs.end());
    for (const CrewCall* call : all_crew(production_)) {
      asked.insert(call->needs.begin(), call->needs.end());
    }
    for (const Look& look : production_.looks) {
      for (const Step& step : look.steps) asked.insert(step.by);
      for (const Step& step : look.off) asked.insert(step.by);
    }
    return std::all_of(friends.skills.begin(), friends.skills.end(), [&](const std::string& skill) {
      return asked.contains(skill);
    });
  }

  void answers() {
    for (const PersonId who : production_.people.ids()) {
      const Answer answer = production_.people[who].answer;
      if (answer == Answer::no || answers_.include(answer)) continue;
      all_.emplace_back(Coming{who, true});
    }
  }

  void items() {
    std::set<ItemId> used;
    for (const Look& look : production_.looks) used.insert(look.items.begin(), look.items.end());
    for (const Scene& scene : production_.scenes) {
      for (const Prop& prop : scene.props) used.insert(prop.item);
    }
    for (const ItemId item : production_.items.ids()) {
      if (used.contains(item)) all_.emplace_back(Things{item, {true, 1}});
    }
  }

  void looks() {
    for (const LookId id : production_.looks.ids()) {
      const Look& look = production_.looks[id];
      for (const ChainPart part : {ChainPart::on, ChainPart::off}) {
        const Minutes total = work_minutes(part == ChainPart::on ? look.steps : look.off);
        if (total < Minutes{2}) continue;
        const bool is_short = total < kShortChain;
        all_.emplace_back(ChainTime{id, part, is_short, is_short ? 10 : kQuicker.count()});
      }
    }
  }

  void stations() {
    for (const StationId id : production_.stations.ids()) {
      if (!production_.stations[id].open) continue;
      all_.emplace_back(OpenHours{id, {std::nullopt, false, kHalfHour, Minutes{0}}});
      all_.emplace_back(OpenHours{id, {std::nullopt, false, Minutes{0}, kHalfHour}});
    }
  }

  void people();

  void days() {
    for (const DayId id : production_.days.ids()) {
      if (only_day_ && *only_day_ != id) continue;
      const Day& day = production_.days[id];
      const auto both = [&](DayMoment moment) {
        all_.emplace_back(DayTime{moment, id, std::nullopt, kHalfHour});
        all_.emplace_back(DayTime{moment, id, std::nullopt, -kHalfHour});
      };
      if (day.first_shot) both(DayMoment::first_shot);
      if (day.wrap_by) {
        all_.emplace_back(DayTime{DayMoment::wrap_by, id, std::nullopt, kHalfHour});
      }
      if (day.nobody_before > WallTime{0}) {
        all_.emplace_back(DayTime{DayMoment::nobody_before, id, std::nullopt, -kHalfHour});
      }
    }
  }

  const Production& production_;
  const Plan& plan_;
  Answers answers_;
  std::optional<DayId> only_day_;
  std::vector<Change> all_;
};

/// Hours press where a stay comes near their end, most where it touches it.
void Helps::people() {
  struct Pressed {
    Minutes spare;
    PersonId who;
    DayId day;
  };
  std::vector<Pressed> at_begin;
  std::vector<Pressed> at_end;
  for (const DayPlan& day : plan_.days) {
    const DayFrame frame(production_, day.day, answers_);
    const Date date = production_.days[day.day].date;
    for (const Stay& stay : day.people) {
      const auto& free = production_.people[stay.person].free;
      if (!free) continue;
      std::optional<Minutes> before;
      std::optional<Minutes> behind;
      for (const FreeTime& time : *free) {
        if (time.date != date || !time.hours) continue;
        const Span hours = frame.clock.elapsed(*time.hours);
        if (!hours.covers({stay.call, stay.released})) continue;
        before = std::max(before.value_or(Minutes{0}), stay.call - hours.from);
        behind = std::max(behind.value_or(Minutes{0}), hours.until - stay.released);
      }
      if (before && *before < kHalfHour) at_begin.push_back({*before, stay.person, day.day});
      if (behind && *behind < kHalfHour) at_end.push_back({*behind, stay.person, day.day});
    }
  }
  const auto add = [this](std::vector<Pressed>& pressed, Hours hours) {
    std::stable_sort(pressed.begin(), pressed.end(), [](const Pressed& a, const Pressed& b) {
      return std::tie(a.spare, a.day, a.who) < std::tie(b.spare, b.day, b.who);
    });
    if (pressed.size() > kMostPressed) pressed.resize(kMostPressed);
    for (const Pressed& one : pressed) all_.emplace_back(FreeHours{one.who, one.day, hours});
  };
  add(at_begin, {std::nullopt, false, kHalfHour, Minutes{0}});
  add(at_end, {std::nullopt, false, Minutes{0}, kHalfHour});
}

}  // namespace

std::vector<Change> small_helps(const Production& production,
                                const Plan& plan,
                                Answers answers,
                                std::optional<DayId> only_day) {
  return Helps(production, plan, answers, only_day).take();
}

}  // namespace gp::whatif
