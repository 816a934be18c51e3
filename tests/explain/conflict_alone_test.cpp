#include "explain/conflict/alone.h"
#include "search/planner.h"
#include "support/builder.h"
#include "support/exhaustive.h"
#include "support/random_production.h"
#include "support/random_production_mend.h"
#include "support/seed.h"

#include <cstdlib>
#include <string>

#include <doctest/doctest.h>

using gp::conflict::Answered;
using gp::conflict::film_alone;
using gp::conflict::Question;
using gp::conflict::Terms;
using gp::conflict::Verdict;

namespace {

Verdict ask(const gp::Production& film, const Question& question) {
  gp::Stop never;
  return film_alone(film, question, Terms{}, never).verdict;
}

}  // namespace

TEST_SUITE("explain/conflict_alone") {
  TEST_CASE("what a plan films could be filmed alone") {
    // The planner is another program: whatever stands in a right plan of its making is possible,
    // and stays so when the other scenes are left out. A scene told impossible would show here.
    int filmed = 0;
    int full = 0;
    int unknown = 0;
    int impossible = 0;
    for (std::uint64_t i = 0; i < 150; ++i) {
      const std::uint64_t seed = gp::test::seed() * 1000 + i;
      CAPTURE(seed);
      const gp::Production film = gp::test::production_of(gp::test::random_production(
          seed, i % 3 == 0 ? gp::test::ProductionSize::tiny() : gp::test::ProductionSize::small()));
      gp::Wishes wishes;
      wishes.effort = 0.02;
      gp::Stop never;
      const gp::Plan plan = gp::make_plan(film, wishes, never);
      for (const gp::DayPlan& day : plan.days) {
        for (const gp::PlannedScene& scene : day.scenes) {
          CAPTURE(film.scenes[scene.scene].id);
          const Answered alone = film_alone(film, {scene.scene, {}, {}}, Terms{}, never);
          CHECK(alone.verdict != Verdict::impossible);
          if (alone.verdict == Verdict::unknown) ++unknown;
          if (alone.plan) CHECK(gp::check(film, *alone.plan).empty());
          ++filmed;
          for (const gp::CastCall& call : film.scenes[scene.scene].cast) {
            bool is_short = false;
            for (const gp::Unfilled& row : plan.unfilled) {
              is_short = is_short || (row.scene == scene.scene && row.role == call.role);
            }
            if (is_short || !film.roles[call.role].crowd) continue;
            CAPTURE(film.roles[call.role].id);
            const Verdict heads = ask(film, {scene.scene, call.role, {}});
            CHECK(heads != Verdict::impossible);
            if (heads == Verdict::unknown) ++unknown;
            ++full;
          }
        }
      }
      for (const gp::NotFilmed& row : plan.not_filmed) {
        if (ask(film, {row.scene, {}, {}}) == Verdict::impossible) ++impossible;
      }
    }
    MESSAGE(filmed,
            " filmed, ",
            full,
            " crowds full, ",
            unknown,
            " unknown, ",
            impossible,
            " impossible");
    CHECK(filmed > 200);
    CHECK(full > 50);
    CHECK(impossible > 5);
    CHECK(unknown * 20 <= filmed + full);
  }
}
