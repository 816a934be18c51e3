#include "search/loss_reasons.h"

#include "time/clock.h"

#include <algorithm>
#include <string>
#include <vector>

namespace gp {
namespace {

std::string number(std::int64_t n) {
  return std::to_string(n);
}

std::string joined(const std::vector<std::string>& parts, const std::string& last_link) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) text += i + 1 == parts.size() ? last_link : ", ";
    text += parts[i];
  }
  return text;
}

std::string minutes(std::int64_t n) {
  return number(n) + (n == 1 ? " minute" : " minutes");
}

/// "1 is" / "3 are".
std::string are(std::int64_t n) {
  return number(n) + (n == 1 ? " is" : " are");
}

bool has(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

class Reasons {
 public:
  Reasons(const Problem& problem, Builder& builder)
      : problem_(problem), film_(problem.production), builder_(builder) {}

  std::string of_scene(SceneId scene) const {
    // From what nothing could change to what another order might: the first that applies is the
    // reason.
    for (auto find : {&Reasons::unplayable_part,
                      &Reasons::one_person_two_parts,
                      &Reasons::no_window,
                      &Reasons::too_few_props,
                      &Reasons::person_never_free,
                      &Reasons::chain_too_long,
                      &Reasons::comes_too_late,
                      &Reasons::unit_is_full}) {
      std::string text = (this->*find)(scene);
      if (!text.empty()) return text;
    }
    return no_time_found(scene);
  }

  std::string of_heads(const Unfilled& row) const {
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
  [[nodiscard]] std::string clock(std::size_t d, Minute m) const {
    return format(day(d).clock.shown(m));
  }
  [[nodiscard]] std::string span(std::size_t d, Span s) const {
    return clock(d, s.from) + "-" + clock(d, s.until);
  }
  [[nodiscard]] std::string date(std::size_t d) const { return format(day(d).clock.date()); }
  /// " on 2027-04-17" where there is more than one day to mistake it for.
  [[nodiscard]] std::string on_date(std::size_t d) const {
    return problem_.days.size() > 1 ? " on " + date(d) : std::string();
  }
  [[nodiscard]] std::string windows_of(SceneId scene) const {
    std::vector<std::string> parts;
    for (std::size_t d = 0; d < problem_.days.size(); ++d) {
      for (const Span& window : problem_.windows[d][scene]) {
        parts.push_back(span(d, window) + on_date(d));
      }
    }
    return joined(parts, " or ");
  }
  [[nodiscard]] std::size_t coming() const {
    return static_cast<std::size_t>(
        std::count_if(film_.people.begin(), film_.people.end(), [&](const Person& p) {
          return problem_.wishes.answers.include(p.answer);
        }));
  }

  std::string unplayable_part(SceneId scene) const {
    for (const Slot& slot : problem_.slots.of(scene)) {
      if (slot.kind != Slot::Kind::part || !slot.candidates.empty()) continue;
      const Role& role = film_.roles[slot.role];
      if (role.person.valid()) {
        return film_.people[role.person].shown() + ", who plays " + role.shown() +
               ", has not said yes";
      }
      return "nobody may play " + role.shown() + ": " +
             why_not(role.needs, tags_for(role, scene), role.from ? &*role.from : nullptr);
    }
    return {};
  }

  Tags tags_for(const Role& role, SceneId scene) const {
    Tags tags = role.tags;
    const auto add = [&](const Tags& more) {
      for (const std::string& tag : more) {
        if (!has(tags, tag)) tags.push_back(tag);
      }
    };
    if (role.look_kind == LookKind::look) add(film_.looks[role.look].tags);
    add(film_.scenes[scene].hazards);
    return tags;
  }

  /// How those who are coming fall out: "of 12 who are coming, 7 are not asked for, 3 lack …".
  std::string why_not(const Tags& needs,
                      const Tags& tags,
                      const std::vector<PersonId>* from) const {
    int outside = 0;
    int lacking = 0;
    int refusing = 0;
    for (PersonId id : film_.people.ids()) {
      const Person& person = film_.people[id];
      if (!problem_.wishes.answers.include(person.answer)) continue;
      if (from != nullptr && std::find(from->begin(), from->end(), id) == from->end()) {
        ++outside;
      } else if (!std::all_of(needs.begin(), needs.end(), [&](const auto& n) {
                   return has(person.can, n);
                 })) {
        ++lacking;
      } else if (std::any_of(
                     tags.begin(), tags.end(), [&](const auto& t) { return has(person.no, t); })) {
        ++refusing;
      }
    }
    std::vector<std::string> parts;
    if (outside > 0) parts.push_back(are(outside) + " not among those named for it");
    if (lacking > 0) {
      parts.push_back(number(lacking) + (lacking == 1 ? " lacks " : " lack ") +
                      joined(needs, " and "));
    }
    if (refusing > 0) parts.push_back(number(refusing) + " will not (" + joined(tags, ", ") + ")");
    const std::string all = "of " + number(static_cast<std::int64_t>(coming())) + " who are coming";
    return parts.empty() ? all + ", none may" : all + ", " + joined(parts, " and ");
  }

  std::string one_person_two_parts(SceneId scene) const {
    const auto& slots = problem_.slots.of(scene);
    for (std::size_t a = 0; a < slots.size(); ++a) {
      for (std::size_t b = a + 1; b < slots.size(); ++b) {
        if (slots[a].kind != Slot::Kind::part || slots[b].kind != Slot::Kind::part) continue;
        if (slots[a].candidates.size() != 1 || slots[b].candidates != slots[a].candidates) continue;
        return film_.people[slots[a].candidates.front()].shown() + " would have to play " +
               film_.roles[slots[a].role].shown() + " and " + film_.roles[slots[b].role].shown() +
               " at once";
      }
    }
    return {};
  }

  std::string no_window(SceneId scene) const {
    for (std::size_t d = 0; d < problem_.days.size(); ++d) {
      if (problem_.open_on(scene, d)) return {};
    }
    const Scene& spec = film_.scenes[scene];
    std::vector<std::string> asks;
    if (spec.day.valid()) {
      const std::string tied = format(film_.days[spec.day].date);
      const bool planned = std::any_of(problem_.days.begin(),
                                       problem_.days.end(),
                                       [&](const auto& f) { return f.id == spec.day; });
      if (!planned) return "it is tied to " + tied + ", which was not planned";
      asks.push_back("on " + tied);
    }
    switch (spec.light) {
      case Light::any:
        break;
      case Light::day:
        asks.emplace_back("by daylight");
        break;
      case Light::golden:
        asks.emplace_back("in the golden hour");
        break;
      case Light::dusk:
        asks.emplace_back("at dusk");
        break;
      case Light::dark:
        asks.emplace_back("in the dark");
        break;
    }
    if (spec.between)
      asks.push_back("between " + format(spec.between->from) + " and " +
                     format(spec.between->until));
    if (spec.at) asks.push_back("at " + format(*spec.at));
    std::string text = "it needs " + minutes(count(spec.shoot_minutes));
    if (!asks.empty()) text += " " + joined(asks, " ");
    std::vector<std::string> has_days;
    for (std::size_t d = 0; d < problem_.days.size(); ++d) {
      std::string hours = "shooting is from " + clock(d, day(d).first_shot);
      hours += day(d).wrap_by == kDayEnd ? " on" : " to " + clock(d, day(d).wrap_by);
      has_days.push_back(hours + on_date(d));
    }
    return text + "; " + joined(has_days, " and ");
  }

  std::string too_few_props(SceneId scene) const {
    for (const Prop& prop : film_.scenes[scene].props) {
      const Item& item = film_.items[prop.item];
      if (prop.count > item.count) {
        return "it needs " + number(prop.count) + " of " + item.shown() + ", and there " +
               are(item.count).substr(number(item.count).size() + 1) + " " + number(item.count);
      }
    }
    return {};
  }

  /// The parts that only one person can play.
  template <class Each>
  std::string for_each_certain_part(SceneId scene, Each each) const {
    for (const Slot& slot : problem_.slots.of(scene)) {
      if (slot.kind != Slot::Kind::part || slot.candidates.size() != 1) continue;
      std::string text = each(film_.roles[slot.role], slot.candidates.front());
      if (!text.empty()) return text;
    }
    return {};
  }

  std::string person_never_free(SceneId scene) const {
    const Minutes shoot = film_.scenes[scene].shoot_minutes;
    return for_each_certain_part(scene, [&](const Role& role, PersonId who) -> std::string {
      std::vector<std::string> hours;
      for (std::size_t d = 0; d < problem_.days.size(); ++d) {
        for (const Span& free : day(d).free[who]) {
          for (const Span& window : problem_.windows[d][scene]) {
            const Minute from = std::max(free.from + film_.sign_in, window.from);
            if (std::min(free.until, window.until) - from >= shoot) return {};
          }
          hours.push_back(free.until == kDayEnd ? "from " + clock(d, free.from) + on_date(d)
                                                : span(d, free) + on_date(d));
        }
      }
      const std::string is_free =
          hours.empty() ? " is not free on any day planned" : " is free " + joined(hours, " and ");
      return film_.people[who].shown() + ", who plays " + role.shown() + "," + is_free +
             "; the scene can be shot " + windows_of(scene);
    });
  }

  std::string chain_too_long(SceneId scene) const {
    return for_each_certain_part(scene, [&](const Role& role, PersonId who) -> std::string {
      if (role.look_kind != LookKind::look) return {};
      const Look& look = film_.looks[role.look];
      Minutes chain{0};
      for (const Step& step : look.steps) chain += step.minutes + step.then_wait;
      std::string text;
      for (std::size_t d = 0; d < problem_.days.size(); ++d) {
        if (!problem_.open_on(scene, d) || day(d).free[who].empty()) continue;
        const Minute called = day(d).free[who].front().from;
        const Minute ready = called + film_.sign_in + chain;
        const Minute latest =
            problem_.windows[d][scene].back().until - film_.scenes[scene].shoot_minutes;
        if (ready <= latest) return {};
        text = film_.people[who].shown() + " needs " + minutes(count(chain)) + " for " +
               look.shown() + " and cannot be called before " + clock(d, called) + on_date(d) +
               ": ready at " + clock(d, ready) + ", and the scene must begin by " +
               clock(d, latest);
      }
      return text;
    });
  }

  std::string comes_too_late(SceneId scene) const {
    for (SceneId before : film_.scenes[scene].after) {
      const auto& filmed = builder_.filmed(before);
      if (!filmed) continue;
      std::optional<Minute> latest;
      std::size_t on = 0;
      for (std::size_t d = filmed->day; d < problem_.days.size(); ++d) {
        if (!problem_.open_on(scene, d)) continue;
        latest = problem_.windows[d][scene].back().until - film_.scenes[scene].shoot_minutes;
        on = d;
      }
      if (latest && (on > filmed->day || *latest >= filmed->until)) continue;
      std::string text = "it comes after " + film_.scenes[before].shown() + ", which ends at " +
                         clock(filmed->day, filmed->until) + on_date(filmed->day);
      return latest ? text + ", and would have to begin by " + clock(on, *latest) + on_date(on)
                    : text + ", and can only be shot on an earlier day";
    }
    return {};
  }

  std::string unit_is_full(SceneId scene) const {
    const Scene& spec = film_.scenes[scene];
    std::vector<std::string> parts;
    for (std::size_t d = 0; d < problem_.days.size(); ++d) {
      if (!problem_.open_on(scene, d)) continue;
      const DayDraft& draft = builder_.day(d);
      const auto& unit = draft.unit(spec.unit);
      if (!unit.last.valid()) return {};
      const Minute end = draft.unit_free(scene) + draft.set_up(scene) + spec.shoot_minutes;
      const Minute limit = problem_.windows[d][scene].back().until;
      if (end <= limit) return {};
      parts.push_back("unit " + film_.units[spec.unit].shown() + " is busy until " +
                      clock(d, unit.until) + on_date(d) + ", would end this at " + clock(d, end) +
                      ", and it must be over by " + clock(d, limit));
    }
    return joined(parts, "; and ");
  }

  std::string no_time_found(SceneId scene) const {
    std::vector<std::string> who;
    for_each_certain_part(scene, [&](const Role& role, PersonId person) -> std::string {
      who.push_back(film_.people[person].shown() + " (" + role.shown() + ")");
      return {};
    });
    std::string text = "no time was found at which its unit";
    if (!who.empty()) text += ", " + joined(who, ", ");
    return text + " and the chairs they need are free together; it can be shot " +
           windows_of(scene);
  }

  std::string of_slot(const Slot& slot, const Filmed& filmed, SceneId scene, int has_now) const {
    const std::size_t d = filmed.day;
    const bool is_crew = slot.kind == Slot::Kind::crew;
    const Span when{is_crew ? filmed.set_at : filmed.shoot_at, filmed.until};
    std::string text = "asks for " + number(slot.people) + ", has " + number(has_now) + ": ";
    const auto may = static_cast<int>(slot.candidates.size());
    if (may < slot.people) {
      text += "only " + number(may) + " may";
      if (is_crew) {
        const CrewCall call = film_.crew_of(scene)[slot.call];
        text +=
            " (" +
            why_not(
                call.needs, film_.scenes[scene].hazards, call.from.empty() ? nullptr : &call.from) +
            ")";
      } else {
        const Role& role = film_.roles[slot.role];
        text += " (" +
                why_not(role.needs, tags_for(role, scene), role.from ? &*role.from : nullptr) + ")";
      }
      if (has_now == may) return text;
      text += "; ";
    }
    int here = 0;
    int away = 0;
    int busy = 0;
    int unready = 0;
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
    if (here > 0) parts.push_back(are(here) + " in the scene");
    if (away > 0) parts.push_back(are(away) + " not free " + span(d, when) + on_date(d));
    if (busy > 0) parts.push_back(are(busy) + " needed elsewhere about then");
    if (without_item > 0) {
      parts.push_back("for " + number(without_item) + " there is no " + items_of(slot));
    }
    if (unready > 0) {
      parts.push_back(number(unready) + " cannot be ready in time" + chairs_for(slot, filmed));
    }
    return text + "of " + number(may) + " who may, " + joined(parts, " and ");
  }

  std::string items_of(const Slot& slot) const {
    std::vector<std::string> names;
    for (ItemId item : film_.looks[film_.roles[slot.role].look].items) {
      names.push_back(film_.items[item].shown() + " (" + number(film_.items[item].count) +
                      (film_.items[item].instead.empty() ? ")" : " and stand-ins)"));
    }
    return joined(names, " or ") + " left";
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
    std::string text = ": " + number(slot.people) + " through " + station + " by " + clock(d, by) +
                       "; " + number(narrow_at_once) +
                       (narrow_staff ? " who can " + narrow->by : " at a time") + ", at " +
                       minutes(count(narrow->minutes)) + " each, ";
    if (start < kAlwaysBefore + Minutes{1440}) return text;
    text += narrow_at_once == 1 ? "needs from " : "need from ";
    text += start < minute(0) ? "before midnight" : clock(d, start);
    const Minute nobody = day(d).nobody_before;
    if (start < nobody + film_.sign_in) {
      text += "; nobody may be called before " + clock(d, nobody);
    } else {
      text += ", and others need the same chairs or hands";
    }
    return text;
  }

  const Problem& problem_;
  const Production& film_;
  Builder& builder_;
};

}  // namespace

void give_reasons(const Problem& problem, Builder& builder, Plan& plan) {
  const Reasons reasons(problem, builder);
  for (NotFilmed& row : plan.not_filmed) row.why = reasons.of_scene(row.scene);
  for (Unfilled& row : plan.unfilled) row.why = reasons.of_heads(row);
}

}  // namespace gp
