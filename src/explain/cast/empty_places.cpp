#include "explain/cast/cast_film.h"
#include "model/sizes.h"
#include "model/skilled.h"
#include "model/tags.h"
#include "time/clock.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

namespace gp {
namespace {

/// What keeps somebody from a place.
struct Hindrance {
  enum class Kind { here_already, other_answer, not_among, wrong_size, lacks, not_then, never };
  Kind kind = Kind::never;
  std::string told;    ///< for the sum: "lack \"dance\""
  std::string change;  ///< "if Noor could dance"
  int by = 0;          ///< not_then: minutes; wrong_size: thousandths of the size
};

/// What changes most easily first.
int order_of(Hindrance::Kind kind) {
  switch (kind) {
    case Hindrance::Kind::not_then:
      return 0;
    case Hindrance::Kind::other_answer:
      return 1;
    case Hindrance::Kind::not_among:
      return 2;
    case Hindrance::Kind::here_already:
      return 3;
    case Hindrance::Kind::wrong_size:
      return 4;
    case Hindrance::Kind::lacks:
      return 5;
    case Hindrance::Kind::never:
      break;
  }
  return 6;
}

struct Misfit {
  std::string sizes;  ///< "head_cm 60"
  int by = 0;         ///< thousandths, over all sizes
};

/// The sizes of somebody that an item does not fit.
Misfit misfit_of(const Item& item, const Person& person) {
  Misfit misfit;
  for (const auto& [name, range] : item.fits) {
    const auto size = person.sizes.find(name);
    if (size == person.sizes.end()) continue;
    const double by = std::max(range.least - size->second, size->second - range.most);
    if (by <= 0) continue;
    misfit.by += static_cast<int>(std::lround(by * 1000));
    misfit.sizes += (misfit.sizes.empty() ? "" : " and ") + name + " " +
                    format(SizeRange{size->second, size->second});
  }
  return misfit;
}

class Reasons {
 public:
  Reasons(const Production& production,
          const CastWishes& wishes,
          const CastDays& days,
          const FilmCast& film,
          const CastSolution& solution)
      : production_(production), wishes_(wishes), days_(days), film_(film), solution_(solution) {}

  [[nodiscard]] std::vector<EmptyPlace> all() const {
    std::vector<EmptyPlace> list;
    for (const SceneId scene : production_.scenes.ids()) {
      const auto& places = film_.problem().scenes[scene.index()].places;
      for (std::size_t k = 0; k < places.size(); ++k) {
        const int missing =
            places[k].people - static_cast<int>(solution_.filled[scene.index()][k].size());
        if (missing <= 0) continue;
        list.push_back(reason(scene, k, missing));
      }
    }
    return list;
  }

 private:
  [[nodiscard]] EmptyPlace reason(SceneId scene, std::size_t k, int missing) const {
    const Slot& slot = film_.slots().of(scene)[k];
    EmptyPlace empty;
    empty.scene = scene;
    empty.missing = missing;
    if (slot.kind == Slot::Kind::crew) {
      empty.job = production_.crew_of(scene)[slot.call].job;
    } else {
      empty.role = slot.role;
    }
    const auto& opening = opening_of(scene);
    if (opening.day < 0) {
      empty.why = "the scene can stand at no time: its day, its times and its light leave none";
      return empty;
    }
    if (slot.kind == Slot::Kind::part) {
      const int who = solution_.part[slot.role.index()];
      if (who >= 0)
        return of_holder(std::move(empty), slot, k, PersonId(static_cast<std::size_t>(who)));
    }
    std::map<std::string, int> counts;
    std::pair<int, int> best{std::numeric_limits<int>::max(), 0};
    for (const PersonId person : production_.people.ids()) {
      const auto hindrances = of(person, scene, k);
      if (hindrances.empty()) continue;
      const Hindrance& main = *std::max_element(
          hindrances.begin(), hindrances.end(), [](const Hindrance& a, const Hindrance& b) {
            return order_of(a.kind) < order_of(b.kind);
          });
      ++counts[main.told];
      if (hindrances.size() != 1 || main.kind == Hindrance::Kind::never) continue;
      const std::pair<int, int> rank{order_of(main.kind), main.by};
      if (rank < best) {
        best = rank;
        empty.nearest = person;
        empty.change = main.change;
      }
    }
    for (const auto& [told, number] : counts) {
      empty.why += (empty.why.empty() ? "" : ", ") + std::to_string(number) + " " + told;
    }
    if (empty.why.empty()) empty.why = "nobody is in the list of people";
    return empty;
  }

  [[nodiscard]] const CastProblem::Opening& opening_of(SceneId scene) const {
    return film_.problem()
        .scenes[scene.index()]
        .openings[static_cast<std::size_t>(solution_.opening[scene.index()])];
  }

  /// A part that somebody has, in a scene in which they cannot be.
  [[nodiscard]] EmptyPlace of_holder(EmptyPlace empty,
                                     const Slot& slot,
                                     std::size_t k,
                                     PersonId who) const {
    const std::string& name = production_.people[who].shown();
    const auto busy = busy_with(who, empty.scene, k);
    if (!busy.empty()) {
      empty.why = name + ", who has the part, is " + busy;
      return empty;
    }
    const Hindrance hindrance = time_of(who, empty.scene, slot);
    empty.why = name + " has the part and cannot be there then";
    empty.nearest = who;
    empty.change = hindrance.change;
    if (!wishes_.answers.include(production_.people[who].answer)) {
      empty.why = name + " has the part and does not come (answer: " +
                  name_of(production_.people[who].answer) + ")";
      empty.nearest = PersonId();
      empty.change.clear();
    }
    return empty;
  }

  /// What else somebody does in this scene, or in one at the same time; empty: nothing.
  [[nodiscard]] std::string busy_with(PersonId who, SceneId scene, std::size_t place) const {
    const int group = film_.problem().scenes[scene.index()].group;
    for (const SceneId other : production_.scenes.ids()) {
      if (film_.problem().scenes[other.index()].group != group) continue;
      const auto& filled = solution_.filled[other.index()];
      for (std::size_t k = 0; k < filled.size(); ++k) {
        if (other == scene && k == place) continue;
        if (std::find(filled[k].begin(), filled[k].end(), static_cast<int>(who.index())) ==
            filled[k].end()) {
          continue;
        }
        const Slot& slot = film_.slots().of(other)[k];
        const std::string what = slot.kind == Slot::Kind::crew
                                     ? production_.crew_of(other)[slot.call].job
                                     : production_.roles[slot.role].shown();
        return what + (other == scene
                           ? " in it"
                           : " in " + production_.scenes[other].shown() + " at the same time");
      }
    }
    return {};
  }

  [[nodiscard]] std::vector<Hindrance> of(PersonId who, SceneId scene, std::size_t k) const {
    const Slot& slot = film_.slots().of(scene)[k];
    const Person& person = production_.people[who];
    const std::string& name = person.shown();
    std::vector<Hindrance> list;
    const auto& filled = solution_.filled[scene.index()][k];
    if (std::find(filled.begin(), filled.end(), static_cast<int>(who.index())) != filled.end()) {
      return {};  // they are one of those who are there
    }
    if (person.answer == Answer::no) {
      return {{Hindrance::Kind::never, "answered no", "", 0}};
    }
    if (refuses(person, scene, slot)) {
      return {{Hindrance::Kind::never, "will not do what it asks for", "", 0}};
    }
    if (!wishes_.answers.include(person.answer)) {
      list.push_back({Hindrance::Kind::other_answer,
                      "have not said yes",
                      "if " + name + " says yes (now: " + name_of(person.answer) + ")",
                      0});
    }
    const Tags& needs = slot.kind == Slot::Kind::crew ? production_.crew_of(scene)[slot.call].needs
                                                      : production_.roles[slot.role].needs;
    for (const std::string& skill : needs) {
      if (has(person.can, skill)) continue;
      list.push_back({Hindrance::Kind::lacks,
                      "cannot \"" + skill + "\"",
                      "if " + name + " could \"" + skill + "\"",
                      0});
    }
    if (slot.kind != Slot::Kind::crew) {
      add_sizes(person, production_.roles[slot.role], list);
      add_own_help(who, production_.roles[slot.role], list);
    }
    if (!among(who, scene, slot)) {
      list.push_back({Hindrance::Kind::not_among,
                      "are not among those it may be (\"from\")",
                      "if " + name + " were added to its \"from\"",
                      0});
    }
    const std::string busy = busy_with(who, scene, k);
    if (!busy.empty()) {
      list.push_back({Hindrance::Kind::here_already,
                      "are in it already or in another at the same time",
                      "if somebody else were " + busy + " instead of " + name,
                      0});
    }
    std::vector<SceneId> scenes{scene};
    if (slot.kind == Slot::Kind::part) scenes = film_.slots().scenes_of(slot.role);
    for (const SceneId in : scenes) {
      if (opening_of(in).day < 0) continue;
      for (const Slot& its : film_.slots().of(in)) {
        const bool same =
            its.kind == slot.kind &&
            (slot.kind == Slot::Kind::crew ? its.call == slot.call : its.role == slot.role);
        if (!same) continue;
        Hindrance time = time_of(who, in, its);
        if (time.by > 0) list.push_back(std::move(time));
      }
    }
    return list;
  }

  /// One for each item of the look that fits them in no way.
  void add_sizes(const Person& person, const Role& role, std::vector<Hindrance>& list) const {
    if (role.look_kind != LookKind::look) return;
    for (const ItemId id : production_.looks[role.look].items) {
      if (size_match_or_instead(production_, id, person) != SizeMatch::does_not) continue;
      const Item& item = production_.items[id];
      // (with several things to choose from, the one that is wanted first is told)
      const Misfit misfit = misfit_of(item, person);
      const std::string more = item.instead.empty() ? "" : " or what may be worn instead";
      list.push_back(
          {Hindrance::Kind::wrong_size,
           "do not fit into " + item.shown() + " (" + ranges_of(item) + ")" + more,
           "if " + item.shown() + " fitted " + misfit.sizes + " (it fits " + ranges_of(item) + ")",
           misfit.by});
    }
  }

  void add_own_help(PersonId who, const Role& role, std::vector<Hindrance>& list) const {
    if (role.look_kind != LookKind::look) return;
    for (const Alone& alone :
         alone_with_steps(production_, wishes_.answers, production_.looks[role.look])) {
      if (alone.person != who) continue;
      const std::string skill = "\"" + alone.step->by + "\"";
      list.push_back({Hindrance::Kind::lacks,
                      "alone can " + skill + " for it, and nobody does their own",
                      "if somebody else could " + skill + " too",
                      0});
      return;  // one is enough
    }
  }

  [[nodiscard]] bool refuses(const Person& person, SceneId scene, const Slot& slot) const {
    const auto any_of = [&](const Tags& tags) {
      return std::any_of(
          tags.begin(), tags.end(), [&](const std::string& tag) { return has(person.no, tag); });
    };
    if (any_of(production_.scenes[scene].hazards)) return true;
    if (slot.kind == Slot::Kind::crew) return false;
    const Role& role = production_.roles[slot.role];
    if (any_of(role.tags)) return true;
    if (role.look.valid() && any_of(production_.looks[role.look].tags)) return true;
    if (slot.kind != Slot::Kind::part) return false;
    const auto& scenes = film_.slots().scenes_of(slot.role);
    return std::any_of(scenes.begin(), scenes.end(), [&](SceneId other) {
      return any_of(production_.scenes[other].hazards);
    });
  }

  [[nodiscard]] bool among(PersonId who, SceneId scene, const Slot& slot) const {
    if (slot.kind == Slot::Kind::crew) {
      const auto from = production_.crew_of(scene)[slot.call].from;
      return from.empty() || std::find(from.begin(), from.end(), who) != from.end();
    }
    const auto& from = production_.roles[slot.role].from;
    return !from || std::find(from->begin(), from->end(), who) != from->end();
  }

  /// How much longer they would have to be there for the moment that was looked at; 0: they can be.
  [[nodiscard]] Hindrance time_of(PersonId who, SceneId scene, const Slot& slot) const {
    Hindrance hindrance{Hindrance::Kind::not_then, "are not free then", "", 0};
    const auto& opening = opening_of(scene);
    const DayFrame& frame = days_.frames[static_cast<std::size_t>(opening.day)];
    const Span stay =
        film_.needed(scene, slot, static_cast<std::size_t>(opening.day), minute(opening.start));
    const std::string& name = production_.people[who].shown();
    const auto clock = [&](Minute at) { return format(frame.clock.shown(at)); };
    const auto all = free_spans(who, frame);
    hindrance.by = std::numeric_limits<int>::max();
    for (const Span& span : all) {
      const int early = std::max(0, count(span.from - stay.from));
      const int late = std::max(0, count(stay.until - span.until));
      if (early + late >= hindrance.by) continue;
      hindrance.by = early + late;
      hindrance.change = "if " + name + " could ";
      if (early > 0) {
        hindrance.change += "come at " + clock(stay.from) + " instead of " + clock(span.from);
      }
      if (late > 0) {
        hindrance.change += std::string(early > 0 ? " and " : "") + "stay until " +
                            clock(stay.until) + " instead of " + clock(span.until);
      }
    }
    if (all.empty()) {
      hindrance.by = 24 * 60 + count(stay.length());  // after those who come that day
      hindrance.change =
          "if " + name + " could come from " + clock(stay.from) + " to " + clock(stay.until);
    }
    if (hindrance.by > 0) {
      hindrance.change += " on " + format(production_.days[frame.id].date);
    }
    return hindrance;
  }

  /// As DayFrame::free, whatever the answer.
  [[nodiscard]] std::vector<Span> free_spans(PersonId who, const DayFrame& frame) const {
    if (wishes_.answers.include(production_.people[who].answer)) return frame.free[who];
    const Answers everybody{true, true};
    if (!all_frames_) all_frames_ = cast_days(production_, everybody, wishes_.only_day);
    for (const DayFrame& other : all_frames_->frames) {
      if (other.id == frame.id) return other.free[who];
    }
    return {};
  }

  const Production& production_;
  const CastWishes& wishes_;
  const CastDays& days_;
  const FilmCast& film_;
  const CastSolution& solution_;
  mutable std::optional<CastDays> all_frames_;
};

}  // namespace

std::vector<EmptyPlace> empty_places(const Production& production,
                                     const CastWishes& wishes,
                                     const CastDays& days,
                                     const FilmCast& film,
                                     const CastSolution& solution) {
  return Reasons(production, wishes, days, film, solution).all();
}

}  // namespace gp
