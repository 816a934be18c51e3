// Why a crowd or a crew is short.
#include "search/reason_words.h"
#include "time/clock.h"

#include <algorithm>

namespace gp {
namespace {

class HeadsReason {
 public:
  HeadsReason(const Problem& problem, Builder& builder)
      : problem_(problem), film_(problem.production), builder_(builder), words_(problem) {}

  [[nodiscard]] std::string of(const Unfilled& row) const {
    const Filmed& filmed = *builder_.filmed(row.scene);
    const auto& slots = problem_.slots.of(row.scene);
    const auto crew = film_.crew_of(row.scene);
    for (std::size_t s = 0; s < slots.size(); ++s) {
      const Slot& slot = slots[s];
      const bool is_crew = slot.kind == Slot::Kind::crew;
      const bool same = is_crew ? crew[slot.call].job == row.job : slot.role == row.role;
      if (!same || static_cast<int>(filmed.people[s].size()) == slot.people) continue;
      return of_slot(slot, filmed, row.scene, static_cast<int>(filmed.people[s].size()));
    }
    return "nobody was left";
  }

 private:
  [[nodiscard]] const DayFrame& day(std::size_t d) const { return problem_.days[d]; }

  std::string of_slot(const Slot& slot, const Filmed& filmed, SceneId scene, int has_now) const {
    const std::size_t d = filmed.day;
    const bool is_crew = slot.kind == Slot::Kind::crew;
    const Span when{is_crew ? filmed.set_at : filmed.shoot_at, filmed.until};
    std::string text =
        "asks for " + std::to_string(slot.people) + ", has " + std::to_string(has_now) + ": ";
    const auto may = static_cast<int>(slot.candidates.size());
    if (may < slot.people) {
      text += may == 0 ? std::string("nobody may") : "only " + std::to_string(may) + " may";
      if (is_crew) {
        const CrewCall call = film_.crew_of(scene)[slot.call];
        text +=
            " (" +
            words_.who_may_not(
                call.needs, film_.scenes[scene].hazards, call.from.empty() ? nullptr : &call.from) +
            ")";
      } else {
        const Role& role = film_.roles[slot.role];
        text += " (" +
                words_.who_may_not(role.needs,
                                   words_.tags_for(role, scene),
                                   role.from ? &*role.from : nullptr,
                                   &role) +
                ")";
      }
      if (has_now == may || may == 0) return text;
      text += "; ";
    }
    int here = 0;
    int away = 0;
    int busy = 0;
    int unready = 0;
    int undone = 0;
    int without_item = 0;
    for (PersonId who : slot.candidates) {
      const bool taken =
          std::any_of(filmed.people.begin(), filmed.people.end(), [&](const auto& p) {
            return std::find(p.begin(), p.end(), who) != p.end();
          });
      if (taken) {
        ++here;
        continue;
      }
      const auto& free = day(d).free[who];
      if (std::none_of(free.begin(), free.end(), [&](const Span& f) {
            return f.covers({when.from - film_.sign_in, when.until});
          })) {
        ++away;
        continue;
      }
      switch (builder_.try_besides(who, slot, scene)) {
        case Snag::chair:
          ++(nobody_to_do(slot, d, who) ? undone : unready);
          break;
        case Snag::holds:
          ++unready;
          break;
        case Snag::item:
          ++without_item;
          break;
        case Snag::none:
        case Snag::busy:
        case Snag::look:
        case Snag::meal:
          ++busy;
          break;
      }
    }
    std::vector<std::string> parts;
    if (here > has_now) parts.push_back(are(here - has_now) + " in this scene already");
    if (away > 0)
      parts.push_back(are(away) + " not free " + words_.span(d, when) + words_.on_date(d));
    if (busy > 0) parts.push_back(are(busy) + " needed elsewhere about then");
    if (without_item > 0) {
      parts.push_back("for " + std::to_string(without_item) + " there is no " + items_of(slot));
    }
    if (undone > 0) {
      parts.push_back(std::to_string(undone) + " would have to make " +
                      (undone == 1 ? "themself" : "themselves") + " up, for nobody else can");
    }
    if (unready > 0) {
      parts.push_back(std::to_string(unready) + " cannot be ready in time" +
                      chairs_for(slot, filmed));
    }
    if (parts.empty()) return text + "nobody else was left";
    return text + "of the others who may, " + joined(parts, " and ");
  }

  std::string items_of(const Slot& slot) const {
    std::vector<std::string> names;
    for (ItemId item : film_.looks[film_.roles[slot.role].look].items) {
      names.push_back(film_.items[item].shown() + " (" + std::to_string(film_.items[item].count) +
                      (film_.items[item].instead.empty() ? ")" : " and stand-ins)"));
    }
    return joined(names, " or ") + " left";
  }

  /// Whether some step of the look could be done by nobody but the wearer.
  [[nodiscard]] bool nobody_to_do(const Slot& slot, std::size_t d, PersonId wearer) const {
    if (slot.kind == Slot::Kind::crew) return false;
    const Role& role = film_.roles[slot.role];
    if (role.look_kind != LookKind::look) return false;
    const auto& steps = film_.looks[role.look].steps;
    for (std::size_t k = 0; k < steps.size(); ++k) {
      const auto& staff = problem_.staff.on(role.look, k);
      const bool somebody = std::any_of(staff.begin(), staff.end(), [&](PersonId who) {
        return who != wearer && !day(d).free[who].empty();
      });
      const bool themself = std::find(staff.begin(), staff.end(), wearer) != staff.end();
      if (!steps[k].by.empty() && themself && !somebody) return true;
    }
    return false;
  }

  /// The station that is the narrowest for this look, in numbers.
  std::string chairs_for(const Slot& slot, const Filmed& filmed) const {
    const Role& role = film_.roles[slot.role];
    if (slot.kind == Slot::Kind::crew || role.look_kind != LookKind::look) return {};
    const Look& look = film_.looks[role.look];
    const std::size_t d = filmed.day;
    const Step* narrow = nullptr;
    std::int64_t narrow_at_once = 1;
    bool narrow_staff = false;
    Minutes after{0};
    Minutes after_narrow{0};
    for (std::size_t k = look.steps.size(); k-- > 0;) {
      const Step& step = look.steps[k];
      after += step.then_wait;
      std::int64_t at_once = film_.stations[step.at].places;
      bool staff_limits = false;
      if (!step.by.empty()) {
        const auto& staff = problem_.staff.on(role.look, k);
        const auto there = std::count_if(
            staff.begin(), staff.end(), [&](PersonId p) { return !day(d).free[p].empty(); });
        staff_limits = there < at_once;
        at_once = std::min<std::int64_t>(at_once, there);
      }
      if (at_once == 0) {
        return ": at " + film_.stations[step.at].shown() + " nobody is there who can " + step.by;
      }
      if (narrow == nullptr ||
          count(step.minutes) * narrow_at_once > count(narrow->minutes) * at_once) {
        narrow = &step;
        narrow_at_once = at_once;
        narrow_staff = staff_limits;
        after_narrow = after;
      }
      after += step.minutes;
    }
    if (narrow == nullptr) return {};
    const std::int64_t rounds = (slot.people + narrow_at_once - 1) / narrow_at_once;
    const Minute by = filmed.shoot_at - after_narrow;
    const Minute start = by - narrow->minutes * static_cast<std::int32_t>(rounds);
    const std::string station = film_.stations[narrow->at].shown();
    std::string text = ": " + std::to_string(slot.people) + " through " + station + " by " +
                       words_.clock(d, by) + "; " + std::to_string(narrow_at_once) +
                       (narrow_staff ? " who can " + narrow->by : " at a time") + ", at " +
                       in_minutes(count(narrow->minutes)) + " each, ";
    text += narrow_at_once == 1 ? "needs from " : "need from ";
    text += start < minute(0) ? "before midnight" : words_.clock(d, start);
    const Minute nobody = day(d).nobody_before;
    if (start < nobody + film_.sign_in) {
      text += "; nobody may be called before " + words_.clock(d, nobody);
    } else {
      text += ", and others need the same chairs or hands";
    }
    return text;
  }

  const Problem& problem_;
  const Production& film_;
  Builder& builder_;
  ReasonWords words_;
};

}  // namespace

std::string reason_for_heads(const Problem& problem, Builder& builder, const Unfilled& row) {
  return HeadsReason(problem, builder).of(row);
}

}  // namespace gp
