// Why a scene is not filmed.
#include "model/tags.h"
#include "search/reason_words.h"
#include "time/clock.h"
#include "time/light.h"

#include <algorithm>

namespace gp {
namespace {

class SceneReason {
 public:
  SceneReason(const Problem& problem, const Builder& builder)
      : problem_(problem), film_(problem.production), builder_(builder), words_(problem) {}

  [[nodiscard]] std::string of(SceneId scene) const {
    // From what nothing could change to what another order might: the first that applies is the
    // reason.
    for (auto find : {&SceneReason::unplayable_part,
                      &SceneReason::one_person_two_parts,
                      &SceneReason::no_window,
                      &SceneReason::too_few_props,
                      &SceneReason::player_refuses,
                      &SceneReason::person_never_free,
                      &SceneReason::chain_too_long,
                      &SceneReason::comes_too_late,
                      &SceneReason::unit_is_full}) {
      std::string text = (this->*find)(scene);
      if (!text.empty()) return text;
    }
    return no_time_found(scene);
  }

 private:
  [[nodiscard]] const DayFrame& day(std::size_t d) const { return problem_.days[d]; }

  std::string unplayable_part(SceneId scene) const {
    for (const Slot& slot : problem_.slots.of(scene)) {
      if (slot.kind != Slot::Kind::part || !slot.candidates.empty()) continue;
      const Role& role = film_.roles[slot.role];
      if (role.person.valid()) {
        return film_.people[role.person].shown() + ", who plays " + role.shown() +
               ", has not said yes";
      }
      return "nobody may play " + role.shown() + ": " +
             words_.who_may_not(role.needs,
                                words_.tags_for(role, scene),
                                role.from ? &*role.from : nullptr,
                                &role);
    }
    return {};
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
        asks.push_back("by daylight" + lit(scene, LightKind::day));
        break;
      case Light::golden:
        asks.push_back("in the golden hour" + lit(scene, LightKind::golden));
        break;
      case Light::dusk:
        asks.push_back("at dusk" + lit(scene, LightKind::dusk));
        break;
      case Light::dark:
        asks.push_back("in the dark" + lit(scene, LightKind::dark));
        break;
    }
    if (spec.between) {
      asks.push_back("between " + format(spec.between->from) + " and " +
                     format(spec.between->until));
    }
    if (spec.at) asks.push_back("at " + format(*spec.at));
    std::string text = "it needs " + in_minutes(count(spec.shoot_minutes));
    if (!asks.empty()) text += " " + joined(asks, " ");
    std::vector<std::string> has_days;
    for (std::size_t d = 0; d < problem_.days.size(); ++d) {
      std::string hours = "from " + words_.clock(d, day(d).first_shot);
      const std::string date = words_.on_date(d);
      if (day(d).wrap_by != kDayEnd) {
        hours += " to " + words_.clock(d, day(d).wrap_by);
      } else if (date.empty()) {
        hours += " on";
      }
      has_days.push_back(hours + date);
    }
    return text + "; shooting is " + joined(has_days, " and ");
  }

  /// When there is such light on the days planned: " (06:31-07:31 or 19:20-20:20)"; the spans that
  /// the day itself touches, not those of the nights round it.
  [[nodiscard]] std::string lit(SceneId scene, LightKind kind) const {
    std::vector<std::string> spans;
    for (std::size_t d = 0; d < problem_.days.size(); ++d) {
      PlaceId place = day(d).scene_place[scene];
      if (!place.valid() || !film_.places[place].geo) place = day(d).base;
      if (!place.valid() || !film_.places[place].geo) continue;
      const Geo geo = *film_.places[place].geo;
      for (const Span& span : light_spans(kind, day(d).clock, geo.lat, geo.lon)) {
        if (span.from < minute(0) || span.from >= minute(24 * 60)) continue;
        spans.push_back(words_.span(d, span) + words_.on_date(d));
      }
    }
    return spans.empty() ? " (there is none)" : " (" + joined(spans, " or ") + ")";
  }

  std::string too_few_props(SceneId scene) const {
    for (const Prop& prop : film_.scenes[scene].props) {
      const Item& item = film_.items[prop.item];
      if (prop.count > item.count) {
        return "it needs " + std::to_string(prop.count) + " of " + item.shown() +
               ", and there are only " + std::to_string(item.count);
      }
    }
    return {};
  }

  /// Who plays the part in other scenes, or is the only one who can; none: several could.
  [[nodiscard]] PersonId certain_player(const Slot& slot) const {
    const PersonId plays = builder_.player(slot.role);
    if (plays.valid()) return plays;
    return slot.candidates.size() == 1 ? slot.candidates.front() : PersonId();
  }

  template <class Each>
  std::string for_each_certain_part(SceneId scene, Each each) const {
    for (const Slot& slot : problem_.slots.of(scene)) {
      if (slot.kind != Slot::Kind::part) continue;
      const PersonId who = certain_player(slot);
      std::string text = who.valid() ? each(film_.roles[slot.role], who) : std::string();
      if (!text.empty()) return text;
    }
    return {};
  }

  std::string player_refuses(SceneId scene) const {
    for (const Slot& slot : problem_.slots.of(scene)) {
      if (slot.kind != Slot::Kind::part) continue;
      const PersonId who = builder_.player(slot.role);
      if (!who.valid() || slot.may(who)) continue;
      std::vector<std::string> refused;
      for (const std::string& hazard : film_.scenes[scene].hazards) {
        if (has(film_.people[who].no, hazard)) refused.push_back("\"" + hazard + "\"");
      }
      return film_.people[who].shown() + ", who plays " + film_.roles[slot.role].shown() +
             " in the other scenes, has said no to " + joined(refused, " and ");
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
          hours.push_back(free.until == kDayEnd
                              ? "from " + words_.clock(d, free.from) + words_.on_date(d)
                              : words_.span(d, free) + words_.on_date(d));
        }
      }
      const std::string is_free =
          hours.empty() ? " is not free on any day planned" : " is free " + joined(hours, " and ");
      return film_.people[who].shown() + ", who plays " + role.shown() + "," + is_free +
             "; the scene can be shot " + words_.windows_of(scene);
    });
  }

  std::string chain_too_long(SceneId scene) const {
    return for_each_certain_part(scene, [&](const Role& role, PersonId who) -> std::string {
      if (role.look_kind != LookKind::look) return {};
      const Look& look = film_.looks[role.look];
      const Minutes chain = whole_minutes(look.steps);
      std::string text;
      for (std::size_t d = 0; d < problem_.days.size(); ++d) {
        if (!problem_.open_on(scene, d) || day(d).free[who].empty()) continue;
        const Minute called = day(d).free[who].front().from;
        const Minute ready = called + film_.sign_in + chain;
        const Minute latest =
            problem_.windows[d][scene].back().until - film_.scenes[scene].shoot_minutes;
        if (ready <= latest) return {};
        text = film_.people[who].shown() + " needs " + in_minutes(count(chain)) + " for " +
               look.shown() + " and cannot be called before " + words_.clock(d, called) +
               words_.on_date(d) + ": ready at " + words_.clock(d, ready) +
               ", and the scene must begin by " + words_.clock(d, latest);
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
                         words_.clock(filmed->day, filmed->until) + words_.on_date(filmed->day);
      return latest ? text + ", and would have to begin by " + words_.clock(on, *latest) +
                          words_.on_date(on)
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
                      words_.clock(d, unit.until) + words_.on_date(d) + ", would end this at " +
                      words_.clock(d, end) + ", and it must be over by " + words_.clock(d, limit));
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
           words_.windows_of(scene);
  }

  const Problem& problem_;
  const Production& film_;
  const Builder& builder_;
  ReasonWords words_;
};

}  // namespace

std::string reason_for_scene(const Problem& problem, const Builder& builder, SceneId scene) {
  return SceneReason(problem, builder).of(scene);
}

}  // namespace gp
