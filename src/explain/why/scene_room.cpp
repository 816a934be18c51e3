#include "explain/why/scene_room.h"

#include "ordering/windows.h"
#include "time/clock.h"
#include "time/light.h"

#include <algorithm>
#include <set>
#include <utility>

namespace gp::why {
namespace {

const char* light_text(Light light) {
  switch (light) {
    case Light::day:
      return "daylight";
    case Light::golden:
      return "golden light";
    case Light::dusk:
      return "dusk";
    case Light::dark:
      return "darkness";
    case Light::any:
      break;
  }
  return "light";
}

class SceneQuestion {
 public:
  SceneQuestion(const PlannedDay& day, std::size_t index)
      : day_(day),
        index_(index),
        planned_(day.day.scenes[index]),
        scene_(day.film.scenes[planned_.scene]) {
    find_light();
    for (const CastEntry& entry : planned_.cast) {
      for (const PersonId who : entry.people) cast_.push_back({who, &day.film.roles[entry.role]});
    }
    for (const CrewEntry& entry : planned_.crew) {
      crew_.insert(crew_.end(), entry.people.begin(), entry.people.end());
    }
  }

  WhyRoom answer(Way way) {
    constexpr int kFarthest = 24 * 60;
    WhyRoom room;
    for (int far = 1; far <= kFarthest; ++far) {
      shift_ = Minutes{way == Way::later ? far : -far};
      causes_.clear();
      ask_day();
      ask_hours();
      ask_unit();
      ask_people();
      ask_items();
      if (!causes_.empty()) {
        room.causes = std::move(causes_);
        return room;
      }
      room.room = Minutes{far};
    }
    return room;
  }

 private:
  struct Player {
    PersonId person;
    const Role* role = nullptr;
  };

  void add(WhyFact fact,
           const std::string& text,
           std::optional<Minute> moment = std::nullopt,
           PersonId person = {},
           SceneId scene = {},
           ItemId item = {}) {
    for (const WhyCause& cause : causes_) {
      if (cause.text == text) return;
    }
    WhyCause cause;
    cause.fact = fact;
    cause.person = person;
    cause.scene = scene;
    cause.item = item;
    cause.moment = moment;
    cause.text = text;
    causes_.push_back(std::move(cause));
  }

  [[nodiscard]] Span shot() const { return {planned_.shoot_at + shift_, planned_.until + shift_}; }
  [[nodiscard]] Span whole() const { return {planned_.set_at + shift_, planned_.until + shift_}; }
  [[nodiscard]] bool later() const { return shift_ > Minutes{0}; }

  void find_light() {
    if (scene_.light == Light::any) return;
    std::optional<Geo> geo;
    if (scene_.place.valid()) geo = day_.film.places[scene_.place].geo;
    if (!geo && day_.frame.base.valid()) geo = day_.film.places[day_.frame.base].geo;
    if (!geo) return;
    for (const Span& span :
         light_spans(kind_of(scene_.light), day_.frame.clock, geo->lat, geo->lon)) {
      const bool now =
          span.from - Minutes{1} <= planned_.shoot_at && planned_.until <= span.until + Minutes{1};
      if (now) light_ = span;
    }
  }

  void ask_hours() {
    const gp::Day& record = day_.film.days[day_.day.day];
    if (scene_.at) {
      add(WhyFact::fixed_time, "it is fixed at " + format(*scene_.at), planned_.shoot_at);
    }
    if (scene_.between) {
      const Span between = day_.frame.clock.elapsed(*scene_.between);
      if (shot().from < between.from || shot().until > between.until) {
        add(WhyFact::hours_wanted,
            "it is wanted between " + format(scene_.between->from) + " and " +
                format(scene_.between->until),
            later() ? between.until : between.from);
      }
    }
    if (record.first_shot && shot().from < day_.frame.clock.elapsed(*record.first_shot)) {
      add(WhyFact::first_shot,
          "no shot is before the day's first shot at " + format(*record.first_shot),
          day_.frame.clock.elapsed(*record.first_shot));
    }
    if (record.wrap_by && shot().until > day_.frame.wrap_by) {
      add(WhyFact::wrap_by, "the day must wrap by " + format(*record.wrap_by), day_.frame.wrap_by);
    }
    if (light_ && !(light_->from <= shot().from && shot().until <= light_->until)) {
      add(WhyFact::light,
          std::string(light_text(scene_.light)) + " is from " + day_.at(light_->from) + " to " +
              day_.at(light_->until),
          later() ? light_->until : light_->from);
    }
    if (!day_.nameable(shot()) || !day_.frame.nameable(whole().from)) {
      add(WhyFact::clock_change, "the clock shows no such time that night");
    }
  }

  /// A plan's times are written from the day's own midnight on.
  void ask_day() {
    if (whole().from < minute(0)) add(WhyFact::clock_change, "the day begins at 00:00", minute(0));
    if (whole().until > kDayEnd) add(WhyFact::clock_change, "the day's plan ends then", kDayEnd);
  }

  void ask_unit() {
    const PlaceId here = day_.frame.scene_place[planned_.scene];
    const std::string unit = day_.film.units.size() > 1 ? day_.film.units[planned_.unit].shown()
                                                        : std::string("the unit");
    for (const PlannedScene& other : day_.day.scenes) {
      if (&other == &planned_) continue;
      const Scene& record = day_.film.scenes[other.scene];
      const std::string name = "\"" + record.shown() + "\"";
      if (other.unit == planned_.unit) {
        const PlaceId there = day_.frame.scene_place[other.scene];
        // a way may be written differently at its two ends: it counts from where it begins
        const Minutes way = other.until <= planned_.set_at ? day_.film.way(there, here)
                                                           : day_.film.way(here, there);
        const std::string walk = way > Minutes{0} ? ", and the way takes " + minutes_text(way) : "";
        if (other.until <= planned_.set_at && other.until + way > whole().from) {
          add(WhyFact::unit_busy,
              unit + " is with " + name + " until " + day_.at(other.until) + walk,
              other.until,
              {},
              other.scene);
        }
        if (other.set_at >= planned_.until && whole().until + way > other.set_at) {
          add(WhyFact::unit_busy,
              unit + " begins with " + name + " at " + day_.at(other.set_at) + walk,
              other.set_at,
              {},
              other.scene);
        }
      }
      const auto after = [](const Scene& one, SceneId first) {
        return std::find(one.after.begin(), one.after.end(), first) != one.after.end();
      };
      if (after(scene_, other.scene) && other.until > shot().from) {
        add(WhyFact::scene_order,
            "it comes after " + name + ", which ends at " + day_.at(other.until),
            other.until,
            {},
            other.scene);
      }
      if (after(record, planned_.scene) && shot().until > other.shoot_at) {
        add(WhyFact::scene_order,
            name + " comes after it and begins at " + day_.at(other.shoot_at),
            other.shoot_at,
            {},
            other.scene);
      }
    }
    for (const Meal& meal : day_.film.days[day_.day.day].meals) {
      if (!meal.together) continue;
      for (const PlannedMeal& eaten : day_.day.meals) {
        if (eaten.meal != meal.name || eaten.people.empty()) continue;
        if (eaten.from < whole().until && whole().from < eaten.until) {
          add(WhyFact::meal_span,
              "everyone eats (" + meal.name + ") " + day_.span({eaten.from, eaten.until}),
              later() ? eaten.from : eaten.until);
        }
      }
    }
  }

  void ask_people() {
    for (const Player& player : cast_) {
      const bool cast = true;
      ask_person(player.person, cast);
      if (player.role->look_kind == LookKind::look) ask_look(player.person, player.role->look);
      if (player.role->look_kind == LookKind::themselves) ask_bare(player.person);
    }
    for (const PersonId who : crew_) ask_person(who, false);
  }

  /// Other looks may not reach into the shot of who plays as themselves; with steps they are rows,
  /// without any they are worn from scene to scene, and scenes are rows: nothing is left to ask but
  /// a look that stays on over several.
  void ask_bare(PersonId who) {
    for (const Wear& wear : day_.day.wears) {
      if (wear.person != who) continue;
      if (wear.from < shot().until && shot().from < wear.until) {
        add(WhyFact::not_ready,
            day_.name(who) + " wears " + day_.film.looks[wear.look].shown() + " " +
                day_.span({wear.from, wear.until}),
            later() ? wear.from : wear.until,
            who);
      }
    }
  }

  void ask_person(PersonId who, bool cast) {
    const WhyEngagement kind = cast ? WhyEngagement::plays : WhyEngagement::crew;
    Rows rows = day_.without(who, kind, index_);
    const PlaceId here = day_.frame.scene_place[planned_.scene];
    const Span time = cast ? shot() : whole();
    if (const auto row = day_.in_the_way(rows, time, here)) {
      const bool own = row->kind == WhyEngagement::own_step;
      add(own ? WhyFact::not_ready : WhyFact::own_time,
          day_.name(who) + " " + day_.what(*row, who) + " " + day_.span(row->time),
          later() ? row->time.from : row->time.until,
          who,
          row->kind == WhyEngagement::plays || row->kind == WhyEngagement::crew
              ? day_.day.scenes[row->index].scene
              : SceneId());
      return;
    }
    insert(rows, {kind, time, here, index_});
    if (!day_.consistent(rows)) {
      add(WhyFact::own_time, day_.name(who) + " has no time for the ways", std::nullopt, who);
      return;
    }
    ask_stay(who, rows);
  }

  /// The call and the release that follow.
  void ask_stay(PersonId who, const Rows& rows) {
    const Stay& now = *day_.stay(who);
    const auto call = day_.call_of(rows);
    if (!call) {
      add(WhyFact::clock_change,
          "the clock shows no call for " + day_.name(who),
          std::nullopt,
          who);
      return;
    }
    Minute released = rows.front().time.until;
    for (const Row& row : rows) released = std::max(released, row.time.until);
    const Span stay{*call, released};
    const auto& free = day_.frame.free[who];
    if (std::none_of(free.begin(), free.end(), [&](Span span) { return span.covers(stay); })) {
      for (const Span& span : free) {
        if (!span.covers({now.call, now.released})) continue;
        if (stay.from < span.from) {
          const bool nobody = span.from == day_.frame.nobody_before;
          add(WhyFact::not_free,
              nobody ? "nobody is called before " + day_.at(span.from)
                     : day_.name(who) + " is free from " + day_.at(span.from),
              span.from,
              who);
        }
        if (stay.until > span.until) {
          add(WhyFact::not_free,
              day_.name(who) + " is free until " + day_.at(span.until),
              span.until,
              who);
        }
      }
    }
    ask_meals(who, stay, rows);
  }

  /// A longer stay may bring a meal with it.
  void ask_meals(PersonId who, Span stay, const Rows& rows) {
    for (const MealFrame& meal : day_.frame.meals) {
      const bool eats = std::any_of(rows.begin(), rows.end(), [&](const Row& row) {
        return row.kind == WhyEngagement::meal && day_.day.meals[row.index].meal == meal.name;
      });
      if (eats) continue;
      const PlannedMeal* eaten = nullptr;
      for (const PlannedMeal& one : day_.day.meals) {
        if (one.meal == meal.name && eaten == nullptr) eaten = &one;
      }
      const Span due =
          meal.together && eaten != nullptr ? Span{eaten->from, eaten->until} : meal.between;
      if (stay.covers(due)) {
        add(WhyFact::own_time,
            day_.name(who) + " would be there for " + meal.name + " and have no time to eat",
            std::nullopt,
            who);
      }
    }
  }

  void ask_look(PersonId who, LookId look) {
    const Look& record = day_.film.looks[look];
    for (const Wear& wear : day_.day.wears) {
      if (wear.person != who || wear.look != look || wear.from > planned_.shoot_at ||
          wear.until < planned_.until) {
        continue;
      }
      std::optional<Minute> on_at, off_at;
      Minutes dries{0};
      for (const PlannedStep& step : day_.day.steps) {
        if (step.person != who || step.look != look || step.from < wear.from ||
            step.until > wear.until) {
          continue;
        }
        const auto number = static_cast<std::size_t>(step.step);
        if (step.part == ChainPart::on && number + 1 == record.steps.size()) {
          on_at = step.until;
          dries = record.steps[number].then_wait;
        }
        if (step.part == ChainPart::off && number == 0) off_at = step.from;
      }
      const std::string name = day_.name(who) + "'s look (" + record.shown() + ")";
      if (on_at && shot().from < *on_at + dries) {
        add(WhyFact::not_ready,
            name + (dries > Minutes{0} ? " is dry at " : " is on at ") + day_.at(*on_at + dries),
            *on_at + dries,
            who);
      }
      if (off_at && shot().until > *off_at) {
        add(WhyFact::not_ready, name + " comes off at " + day_.at(*off_at), *off_at, who);
      }
      if (on_at && record.holds_for && shot().until - *on_at > *record.holds_for) {
        add(WhyFact::look_holds,
            name + " holds until " + day_.at(*on_at + *record.holds_for),
            *on_at + *record.holds_for,
            who);
      }
      if (record.steps.empty() || record.off.empty()) ask_bare_ends(wear);
    }
  }

  /// A look without steps is worn from its first scene, one without a chain off until its last.
  void ask_bare_ends(const Wear& wear) {
    const Span moved = moved_wear(wear);
    for (const Wear& other : day_.day.wears) {
      if (&other == &wear || other.person != wear.person) continue;
      if (other.from < moved.until && moved.from < other.until) {
        add(WhyFact::not_ready,
            day_.name(wear.person) + " wears " + day_.film.looks[other.look].shown() + " " +
                day_.span({other.from, other.until}),
            later() ? other.from : other.until,
            wear.person);
      }
    }
  }

  /// The wear's span with this scene moved.
  [[nodiscard]] Span moved_wear(const Wear& wear) const {
    const Look& record = day_.film.looks[wear.look];
    Span span{wear.from, wear.until};
    std::optional<Minute> first, last;
    for (const PlannedScene& scene : day_.day.scenes) {
      if (scene.shoot_at < wear.from || scene.until > wear.until) continue;
      bool in_it = false;
      for (const CastEntry& entry : scene.cast) {
        const Role& role = day_.film.roles[entry.role];
        in_it = in_it || (role.look_kind == LookKind::look && role.look == wear.look &&
                          std::find(entry.people.begin(), entry.people.end(), wear.person) !=
                              entry.people.end());
      }
      if (!in_it) continue;
      const Minutes moved = &scene == &planned_ ? shift_ : Minutes{0};
      first = first ? std::min(*first, scene.shoot_at + moved) : scene.shoot_at + moved;
      last = last ? std::max(*last, scene.until + moved) : scene.until + moved;
    }
    if (record.steps.empty() && first) span.from = *first;
    if (record.off.empty() && last) span.until = *last;
    return span;
  }

  /// Everything in use at every moment, with this scene moved: only what it or its bare looks take
  /// can run out.
  void ask_items() {
    std::set<ItemId> touched;
    for (const Prop& prop : scene_.props) touched.insert(prop.item);
    for (const Wear& wear : day_.day.wears) {
      if (moved_wear(wear) == Span{wear.from, wear.until}) continue;
      touched.insert(wear.items.begin(), wear.items.end());
    }
    for (const ItemId item : touched) {
      struct Change {
        Minute at;
        int by;
      };
      std::vector<Change> changes;
      const auto use = [&](Span time, int count) {
        changes.push_back({time.from, count});
        changes.push_back({time.until, -count});
      };
      for (const PlannedScene& scene : day_.day.scenes) {
        const Minutes moved = &scene == &planned_ ? shift_ : Minutes{0};
        for (const Prop& prop : day_.film.scenes[scene.scene].props) {
          if (prop.item == item) use({scene.set_at + moved, scene.until + moved}, prop.count);
        }
      }
      for (const Wear& wear : day_.day.wears) {
        for (const ItemId worn : wear.items) {
          if (worn == item) use(moved_wear(wear), 1);
        }
      }
      std::sort(changes.begin(), changes.end(), [](const Change& a, const Change& b) {
        return a.at != b.at ? a.at < b.at : a.by < b.by;
      });
      int used = 0;
      for (const Change& change : changes) {
        used += change.by;
        if (used <= day_.film.items[item].count) continue;
        add(WhyFact::item_out,
            day_.film.items[item].shown() + ": all are in use at " + day_.at(change.at),
            change.at,
            {},
            {},
            item);
        break;
      }
    }
  }

  const PlannedDay& day_;
  std::size_t index_;
  const PlannedScene& planned_;
  const Scene& scene_;
  std::optional<Span> light_;
  std::vector<Player> cast_;
  std::vector<PersonId> crew_;
  Minutes shift_{};
  std::vector<WhyCause> causes_;
};

}  // namespace

WhyRoom room_of_scene(const PlannedDay& day, std::size_t scene, Way way) {
  return SceneQuestion(day, scene).answer(way);
}

}  // namespace gp::why
