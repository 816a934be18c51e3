// What a draft takes back is gone, whole: random attempts, kept and taken back, on random days.
#include "base/random.h"
#include "prep/day_draft.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <algorithm>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::Minute;
using gp::minute;
using gp::Minutes;
using gp::PersonId;
using gp::RoleId;
using gp::SceneId;
using gp::Span;

namespace {

/// One thing done to a draft.
struct Deed {
  enum class Kind { cast, crew, props, unit };
  Kind kind = Kind::cast;
  PersonId who;
  RoleId role;
  SceneId scene;
  Span when;
};

class Day {
 public:
  Day(const gp::Production& film, const gp::DayFrame& frame, const gp::StaffLists& staff)
      : film_(film), draft(film, frame, staff) {}

  bool apply(const Deed& deed) {
    switch (deed.kind) {
      case Deed::Kind::cast:
        return draft.add_cast(deed.who, film_.roles[deed.role], deed.scene, deed.when);
      case Deed::Kind::crew:
        return draft.add_crew(deed.who, deed.scene, deed.when);
      case Deed::Kind::props:
        if (draft.props_out(deed.scene, deed.when)) return false;
        draft.take_props(deed.scene, deed.when);
        return true;
      case Deed::Kind::unit:
        draft.take_unit(deed.scene, deed.when);
        return true;
    }
    return false;
  }

  /// Everything that can be asked of it.
  [[nodiscard]] std::string all() const {
    std::ostringstream out;
    const auto put = [&](Span span) {
      out << ' ' << gp::count(span.from) << '-' << gp::count(span.until);
    };
    const auto step = [&](const gp::PlacedStep& placed) {
      put(placed.when);
      out << '@' << placed.station.index() << '/' << placed.place;
      if (placed.by.valid()) out << " by " << placed.by.index();
    };
    for (PersonId who : film_.people.ids()) {
      const gp::PersonDay& day = draft.person(who);
      out << "person " << who.index() << (day.engagements.empty() ? -1 : day.window) << ":";
      for (const gp::Engagement& row : day.engagements) {
        put(row.when);
        out << (row.place.valid() ? static_cast<int>(row.place.index()) : -1) << '/'
            << static_cast<int>(row.doing) << '/' << row.what;
      }
      for (const gp::Block& block : day.blocks) {
        out << " look " << block.look.index();
        for (const auto& placed : block.on) step(placed);
        for (const Span& shot : block.scenes) put(shot);
        for (const auto& placed : block.off) step(placed);
        for (gp::ItemId item : block.items) out << " item " << item.index();
        put(block.items_held);
      }
      for (const Span& shot : day.as_self) put(shot);
      for (const gp::MealSlot& slot : day.meals) {
        out << " meal " << slot.meal;
        put(slot.when);
      }
      out << '\n';
    }
    for (gp::UnitId unit : film_.units.ids()) {
      const auto& day = draft.unit(unit);
      out << "unit " << (day.last.valid() ? static_cast<int>(day.last.index()) : -1) << ' '
          << gp::count(day.until) << '\n';
    }
    for (SceneId scene : film_.scenes.ids()) {
      out << "scene " << gp::count(draft.set_up(scene)) << ' ' << gp::count(draft.unit_free(scene));
      for (int from = 0; from < 30 * 60; from += 25) {
        const auto out_at = draft.props_out(scene, {minute(from), minute(from + 25)});
        out << ' ' << (out_at ? gp::count(*out_at) : -1);
      }
      out << '\n';
    }
    return out.str();
  }

 private:
  const gp::Production& film_;

 public:
  gp::DayDraft draft;
};

Deed random_deed(const gp::Production& film, const gp::DayFrame& frame, gp::Random& random) {
  Deed deed;
  deed.scene = SceneId(random.index(film.scenes.size()));
  const Minute from = frame.nobody_before + Minutes{random.between(60, 500)};
  deed.when = {from, from + Minutes{random.between(5, 35)}};
  deed.who = PersonId(random.index(film.people.size()));
  deed.role = RoleId(random.index(film.roles.size()));
  const std::uint32_t kind = random.below(12);
  deed.kind = kind == 0   ? Deed::Kind::unit
              : kind == 1 ? Deed::Kind::props
              : kind < 4  ? Deed::Kind::crew
                          : Deed::Kind::cast;
  return deed;
}

}  // namespace

TEST_SUITE("prep/day_draft") {
  TEST_CASE(
      "taken back to a mark, a day is what it was, and goes on as if nothing had been tried") {
    int taken_back = 0;
    int kept = 0;
    int refused = 0;
    for (std::uint64_t i = 0; i < 120; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::small()));
      const gp::DayFrame frame(film, gp::DayId(0), {});
      const gp::StaffLists staff(film, {});
      gp::Random random(seed);
      std::vector<std::optional<Minute>> meals;
      for (const gp::MealFrame& meal : frame.meals) {
        meals.emplace_back();
        if (meal.together) meals.back() = meal.between.from + Minutes{random.between(0, 20)};
      }
      Day day(film, frame, staff);
      day.draft.begin(meals, nullptr);

      struct Point {
        gp::DayDraft::Mark mark;
        std::size_t deeds;
        std::string all;
      };
      std::vector<Point> points;
      std::vector<Deed> done;
      for (int n = 0; n < 70; ++n) {
        if (random.chance(1, 6)) {
          const auto mark = day.draft.mark();
          points.push_back({mark, done.size(), day.all()});
        } else if (!points.empty() && random.chance(1, 7)) {
          const std::size_t to = random.index(points.size());
          day.draft.rollback(points[to].mark);
          REQUIRE(day.all() == points[to].all);
          done.resize(points[to].deeds);
          points.resize(to + 1);
          ++taken_back;
        } else {
          const Deed deed = random_deed(film, frame, random);
          const std::string before = day.all();
          if (day.apply(deed)) {
            done.push_back(deed);
            ++kept;
          } else {
            // An attempt that fails leaves nothing behind.
            REQUIRE(day.all() == before);
            ++refused;
          }
        }
      }
      // The same deeds on an empty day: what cannot be asked for (which chair is free when, how
      // many seats are left) must be the same too, so what follows is.
      Day fresh(film, frame, staff);
      fresh.draft.begin(meals, nullptr);
      for (const Deed& deed : done) REQUIRE(fresh.apply(deed));
      REQUIRE(fresh.all() == day.all());
      for (int n = 0; n < 25; ++n) {
        const Deed deed = random_deed(film, frame, random);
        REQUIRE(fresh.apply(deed) == day.apply(deed));
        const bool asks_somebody = deed.kind == Deed::Kind::cast || deed.kind == Deed::Kind::crew;
        if (asks_somebody) REQUIRE(fresh.draft.snag() == day.draft.snag());
      }
      CHECK(fresh.all() == day.all());
      // And a day begun anew is empty, however much was done in it.
      const std::string empty = Day(film, frame, staff).all();
      day.draft.begin(meals, nullptr);
      CHECK(day.all() == empty);
    }
    CHECK(kept > 1000);
    CHECK(refused > 500);
    CHECK(taken_back > 300);
  }
}
