#include "support/exhaustive.h"

#include "model/check.h"
#include "model/day_frame.h"
#include "support/builder.h"

#include <algorithm>
#include <map>
#include <string>
#include <vector>

namespace gp::test {
namespace {

constexpr Minutes kGrid{5};

bool has(const Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

bool among(const std::vector<PersonId>& people, PersonId who) {
  return std::find(people.begin(), people.end(), who) != people.end();
}

/// The most that a person or a job asks for in one scene.
struct Call {
  bool part = false;
  RoleId role;      ///< none: behind the camera
  std::string job;  ///< behind the camera
  int people = 1;
  std::vector<PersonId> who;  ///< those who may
};

class Trying {
 public:
  Trying(const Production& film, const Price& limit, std::uint64_t most)
      : film_(film), frame_(film, DayId(0), {}), most_(most), best_(limit) {
    for (SceneId scene : film.scenes.ids()) calls_.add(calls_of(scene));
    plan_.days.resize(1);
    plan_.days[0].day = DayId(0);
    placed_ = Table<SceneId, char>(film.scenes.size(), 0);
    playing_ = Table<RoleId, PersonId>(film.roles.size());
    stays_ = Table<PersonId, std::optional<Rough>>(film.people.size());
  }

  Exhausted run() {
    next_scene();
    return result_;
  }

 private:
  /// A person's stay as far as it is known; meals may still bring the call forward.
  struct Rough {
    Minute call, until;
    PlaceId at;  ///< where they were last
  };

  std::vector<Call> calls_of(SceneId id) const {
    const Scene& scene = film_.scenes[id];
    std::vector<Call> calls;
    const auto coming = [&](PersonId who, const Tags& asked) {
      const Person& person = film_.people[who];
      if (person.answer != Answer::yes || frame_.free[who].empty()) return false;
      return std::none_of(person.no.begin(), person.no.end(), [&](const std::string& refused) {
        return has(asked, refused) || has(scene.hazards, refused);
      });
    };
    const auto skilled = [&](PersonId who, const Tags& needs) {
      return std::all_of(needs.begin(), needs.end(), [&](const std::string& skill) {
        return has(film_.people[who].can, skill);
      });
    };
    for (const CastCall& cast : scene.cast) {
      const Role& role = film_.roles[cast.role];
      Call call{!role.crowd, cast.role, {}, cast.people, {}};
      for (PersonId who : film_.people.ids()) {
        if (!role.crowd && role.person.valid()) {
          if (who == role.person && !frame_.free[who].empty()) call.who.push_back(who);
        } else if ((!role.from || among(*role.from, who)) && skilled(who, role.needs) &&
                   coming(who, role.tags)) {
          call.who.push_back(who);
        }
      }
      calls.push_back(call);
    }
    for (const CrewCall& crew : film_.crew_of(id)) {
      Call call{false, RoleId(), crew.job, crew.people, {}};
      for (PersonId who : film_.people.ids()) {
        if ((crew.from.empty() || among(crew.from, who)) && skilled(who, crew.needs) &&
            coming(who, {})) {
          call.who.push_back(who);
        }
      }
      calls.push_back(call);
    }
    return calls;
  }

  /// What is certain of the price already: none of it gets less by more scenes, or by meals.
  [[nodiscard]] Price so_far() const {
    Price price;
    price.unfilled = unfilled_;
    std::optional<Minute> first;
    for (PersonId who : film_.people.ids()) {
      if (!stays_[who]) continue;
      const auto minutes = count(stays_[who]->until - stays_[who]->call);
      price.weighted_on_site += minutes * film_.people[who].weight;
      first = first ? std::min(*first, stays_[who]->call) : stays_[who]->call;
    }
    const auto& scenes = plan_.days[0].scenes;
    for (const PlannedScene& scene : scenes) {
      price.wrap = std::max<std::int64_t>(price.wrap, count(scene.until));
    }
    for (SceneId scene : film_.scenes.ids()) {
      if (placed_[scene] != 0 || !surely_lost(scene)) continue;
      (film_.scenes[scene].optional ? price.optional_not_filmed : price.not_filmed) +=
          film_.scenes[scene].worth;
    }
    // Whether a day is filmed at all decides how its first call counts: see better().
    price.filmed_days = scenes.empty() ? 0 : 1;
    if (!scenes.empty()) price.first_calls = count(first.value_or(frame_.wrap_by));
    return price;
  }

  /// Whether a scene can no longer come after those there are.
  [[nodiscard]] bool surely_lost(SceneId id) const {
    const Scene& scene = film_.scenes[id];
    for (const Call& call : calls_[id]) {
      if (call.part && call.who.empty()) return true;
    }
    Minute from = frame_.first_shot;
    const auto& scenes = plan_.days[0].scenes;
    if (!scenes.empty()) from = std::max(from, scenes.back().until);
    Minute until = frame_.wrap_by;
    if (scene.between) until = std::min(until, frame_.clock.elapsed(scene.between->until));
    if (scene.at) until = std::min(until, frame_.clock.elapsed(*scene.at) + scene.shoot_minutes);
    return from + scene.shoot_minutes > until;
  }

  [[nodiscard]] bool hopeless(const Price& price) const { return !better(price, best_, film_.aim); }

  /// Films no more, or one more scene, after all those there are.
  void next_scene() {
    if (!result_.whole) return;
    finish();
    for (SceneId scene : film_.scenes.ids()) {
      if (placed_[scene] == 0) starts_of(scene);
    }
  }

  void starts_of(SceneId id) {
    const Scene& scene = film_.scenes[id];
    for (SceneId other : film_.scenes.ids()) {
      const auto& after = film_.scenes[other].after;
      const bool too_late = std::find(after.begin(), after.end(), id) != after.end();
      if (placed_[other] != 0 && too_late) return;
    }
    const auto& scenes = plan_.days[0].scenes;
    Minute set_at = frame_.nobody_before;
    Minutes set_up = scene.set_minutes;
    if (!scenes.empty()) {
      const PlannedScene& last = scenes.back();
      set_at = last.until + film_.way(frame_.scene_place[last.scene], frame_.scene_place[id]);
      if (!scene.set.empty() && film_.scenes[last.scene].set == scene.set) {
        set_up = scene.reset_minutes;
      }
    }
    for (; set_at + set_up + scene.shoot_minutes <= frame_.wrap_by; set_at += kGrid) {
      PlannedScene planned;
      planned.scene = id;
      planned.unit = scene.unit;
      planned.set_at = set_at;
      planned.shoot_at = set_at + set_up;
      planned.until = planned.shoot_at + scene.shoot_minutes;
      if (planned.shoot_at < frame_.first_shot) continue;
      const Span shot{planned.shoot_at, planned.until};
      if (scene.between && !frame_.clock.elapsed(*scene.between).covers(shot)) continue;
      if (scene.at && frame_.clock.elapsed(*scene.at) != planned.shoot_at) continue;
      placed_[id] = 1;
      plan_.days[0].scenes.push_back(planned);
      fill(0, 0, 0);
      plan_.days[0].scenes.pop_back();
      placed_[id] = 0;
      if (!result_.whole) return;
    }
  }

  /// Finds the people for the last scene's call number `which`, from the candidate `from` on, with
  /// `taken` heads already found.
  void fill(std::size_t which, std::size_t from, int taken) {
    if (!result_.whole) return;
    const SceneId id = plan_.days[0].scenes.back().scene;
    const auto& calls = calls_[id];
    if (which == calls.size()) {
      if (++result_.tried > most_) result_.whole = false;
      next_scene();
      return;
    }
    const Call& call = calls[which];
    if (taken == call.people) {
      fill(which + 1, 0, 0);
      return;
    }
    for (std::size_t c = from; c < call.who.size(); ++c) {
      const PersonId who = call.who[c];
      const bool given = call.part && playing_[call.role].valid();
      if (given && playing_[call.role] != who) continue;
      const auto before = stays_[who];
      if (!engage(who, call)) {
        stays_[who] = before;
        continue;
      }
      enter(call, who);
      if (call.part && !given) playing_[call.role] = who;
      if (!hopeless(so_far())) fill(which, c + 1, taken + 1);
      if (call.part && !given) playing_[call.role] = PersonId();
      leave(call);
      stays_[who] = before;
    }
    if (call.part) return;  // without its parts a scene is not filmed
    unfilled_ += call.people - taken;
    if (!hopeless(so_far())) fill(which + 1, 0, 0);
    unfilled_ -= call.people - taken;
  }

  /// Where it returns false the stay must be put back.
  bool engage(PersonId who, const Call& call) {
    const PlannedScene& scene = plan_.days[0].scenes.back();
    for (const CastEntry& entry : scene.cast) {
      if (among(entry.people, who)) return false;
    }
    for (const CrewEntry& entry : scene.crew) {
      if (among(entry.people, who)) return false;
    }
    const PlaceId place = frame_.scene_place[scene.scene];
    const Minute from = call.role.valid() ? scene.shoot_at : scene.set_at;
    auto& stay = stays_[who];
    if (stay) {
      if (from < stay->until + film_.way(stay->at, place)) return false;
      stay->until = scene.until;
      stay->at = place;
    } else {
      const auto called = frame_.call_for(from, film_.sign_in + film_.way(frame_.base, place));
      if (!called) return false;
      stay = Rough{*called, scene.until, place};
    }
    const auto& free = frame_.free[who];
    const Span here{stay->call, stay->until};
    if (std::any_of(free.begin(), free.end(), [&](const Span& s) { return s.covers(here); })) {
      return true;
    }
    return false;
  }

  void enter(const Call& call, PersonId who) {
    PlannedScene& scene = plan_.days[0].scenes.back();
    entered_.push_back(who);
    const auto add = [&](auto& entries, auto is, auto made) {
      auto found = std::find_if(entries.begin(), entries.end(), is);
      if (found == entries.end()) found = entries.insert(entries.end(), made);
      found->people.push_back(who);
    };
    if (call.role.valid()) {
      add(
          scene.cast,
          [&](const CastEntry& e) { return e.role == call.role; },
          CastEntry{call.role, {}});
    } else {
      add(
          scene.crew,
          [&](const CrewEntry& e) { return e.job == call.job; },
          CrewEntry{call.job, {}});
    }
  }
  void leave(const Call& call) {
    PlannedScene& scene = plan_.days[0].scenes.back();
    const PersonId who = entered_.back();
    entered_.pop_back();
    const auto take = [&](auto& entries, auto is) {
      const auto found = std::find_if(entries.begin(), entries.end(), is);
      std::erase(found->people, who);
      if (found->people.empty()) entries.erase(found);
    };
    if (call.role.valid()) {
      take(scene.cast, [&](const CastEntry& e) { return e.role == call.role; });
    } else {
      take(scene.crew, [&](const CrewEntry& e) { return e.job == call.job; });
    }
  }

  /// The plan as it stands, with its meals at every time, against the best.
  void finish() {
    Price price = so_far();
    price.not_filmed = 0;
    price.optional_not_filmed = 0;
    for (SceneId scene : film_.scenes.ids()) {
      if (placed_[scene] != 0) continue;
      (film_.scenes[scene].optional ? price.optional_not_filmed : price.not_filmed) +=
          film_.scenes[scene].worth;
    }
    if (hopeless(price)) return;
    Plan whole = plan_;
    for (SceneId scene : film_.scenes.ids()) {
      if (placed_[scene] == 0) whole.not_filmed.push_back({scene, "tried everything"});
    }
    for (const PlannedScene& scene : whole.days[0].scenes) add_unfilled(scene, whole);
    whole.title = film_.title;
    meals(whole, 0);
  }

  void add_unfilled(const PlannedScene& scene, Plan& whole) const {
    std::map<std::pair<RoleId, std::string>, int> missing;
    for (const Call& call : calls_[scene.scene]) missing[{call.role, call.job}] += call.people;
    for (const CastEntry& entry : scene.cast) {
      missing[{entry.role, {}}] -= static_cast<int>(entry.people.size());
    }
    for (const CrewEntry& entry : scene.crew) {
      missing[{RoleId(), entry.job}] -= static_cast<int>(entry.people.size());
    }
    for (const auto& [key, heads] : missing) {
      if (heads > 0) {
        whole.unfilled.push_back({scene.scene, key.first, key.second, heads, "tried everything"});
      }
    }
  }

  void meals(const Plan& whole, std::size_t which) {
    if (which == frame_.meals.size()) {
      judge(whole);
      return;
    }
    meals(whole, which + 1);  // held for nobody
    const MealFrame& meal = frame_.meals[which];
    for (Minute from = meal.between.from; from + meal.minutes <= meal.between.until;
         from += kGrid) {
      const Span span{from, from + meal.minutes};
      Plan held = whole;
      PlannedMeal planned{meal.name, span.from, span.until, {}};
      // Whoever is there before and after eats; who comes just in time for it may be left out.
      for (PersonId who : film_.people.ids()) {
        if (stays_[who] && Span{stays_[who]->call, stays_[who]->until}.covers(span)) {
          planned.people.push_back(who);
        }
      }
      if (planned.people.empty()) continue;
      held.days[0].meals.push_back(planned);
      meals(held, which + 1);
    }
  }

  void judge(Plan whole) {
    recount_stays(film_, whole);
    const Price price = gp::price(film_, whole);
    if (!better(price, best_, film_.aim)) return;
    if (!check(film_, whole).empty()) return;
    best_ = price;
    result_.price = price;
    result_.best = std::move(whole);
  }

  const Production& film_;
  DayFrame frame_;
  std::uint64_t most_;
  Price best_;
  Exhausted result_;
  Table<SceneId, std::vector<Call>> calls_;
  Plan plan_;
  Table<SceneId, char> placed_;
  Table<RoleId, PersonId> playing_;
  Table<PersonId, std::optional<Rough>> stays_;
  std::vector<PersonId> entered_;
  int unfilled_ = 0;
};

}  // namespace

Exhausted best_of_all(const Production& film, const Price& limit, std::uint64_t most) {
  // A limit is a plan that may be equalled: a minute of wrap is the least that can be worse.
  Price just_worse = limit;
  ++just_worse.wrap;
  return Trying(film, just_worse, most).run();
}

}  // namespace gp::test
