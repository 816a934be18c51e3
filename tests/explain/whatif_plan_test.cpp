// Plans after changes: what was right stays right, two plans side by side, and what a help is
// worth.
#include "explain/whatif/best_help.h"
#include "explain/whatif/carry.h"
#include "explain/whatif/difference.h"
#include "explain/whatif/small_helps.h"
#include "explain/whatif/what_if.h"
#include "model/check.h"
#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"
#include "support/slow_build.h"

#include <algorithm>
#include <atomic>
#include <map>
#include <string>
#include <variant>
#include <vector>

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>

using gp::Minutes;
using gp::test::at;
using gp::whatif::Change;
using gp::whatif::Changed;
using gp::whatif::TriedHelp;
using gp::whatif::Worth;

namespace {

Changed done(const gp::Production& production, const std::vector<std::string>& texts) {
  std::vector<Change> changes;
  for (const std::string& text : texts) {
    changes.push_back(std::get<Change>(gp::whatif::read_change(production, text)));
  }
  return std::get<Changed>(gp::whatif::apply(production, changes));
}

gp::Wishes quick(std::uint64_t seed = 1) {
  gp::Wishes wishes;
  wishes.seed = seed;
  wishes.effort = gp::test::effort(0.02);
  return wishes;
}

gp::Plan planned(const gp::Production& film, const gp::Wishes& wishes) {
  gp::Stop stop;
  return gp::make_plan(film, wishes, stop);
}

/// Three people, one chair, twenty minutes each before a shot at ten.
const char* const kOneChair = R"({
  "greasepaint": 1, "title": "One chair",
  "days": [{"date": "2027-05-01", "first_shot": "10:00", "wrap_by": "11:00"}],
  "people": [{"id": "ana"}, {"id": "bo"}, {"id": "cleo"}],
  "roles": [{"id": "ghost", "crowd": true, "look": "chalk", "from": ["ana", "bo", "cleo"]}],
  "looks": [{"id": "chalk", "steps": [{"at": "mirror", "minutes": 20}]}],
  "stations": [{"id": "mirror", "name": "Mirror"}],
  "scenes": [{"id": "attic", "at": "10:00", "shoot_minutes": 30, "cast": [{"role": "ghost", "people": HEADS}]}]
})";

gp::Production one_chair(const std::string& heads = "3") {
  std::string text = kOneChair;
  text.replace(text.find("HEADS"), 5, heads);
  return gp::test::production_of(text);
}

const TriedHelp& help(const gp::whatif::HelpRanking& ranking, const std::string& written) {
  for (const TriedHelp& one : ranking.helps) {
    if (one.written == written) return one;
  }
  FAIL("not tried: " << written);
  return ranking.helps.front();
}

/// Changes that only add: more people, hours, chairs and items, less work.
std::vector<Change> pure_helps(const gp::Production& film, const gp::Plan& plan) {
  std::vector<Change> some;
  for (const Change& change : gp::whatif::small_helps(film, plan, {})) {
    const auto* time = std::get_if<gp::whatif::DayTime>(&change);
    if (time != nullptr && time->moment == gp::whatif::DayMoment::first_shot &&
        time->later > Minutes{0}) {
      continue;
    }
    some.push_back(change);
  }
  for (const gp::PersonId who : film.people.ids()) {
    if (!film.people[who].free) continue;
    some.emplace_back(gp::whatif::FreeHours{who, std::nullopt, {std::nullopt, true, {}, {}}});
  }
  return some;
}

}  // namespace

TEST_SUITE("explain/whatif/carry") {
  TEST_CASE("a plan stays what it was where only more is there") {
    const gp::test::Planned lamp = gp::test::lamp();
    const auto carried = gp::whatif::carried_over(lamp.plan, done(lamp.production, {"friend"}), {});
    REQUIRE(carried);
    CHECK(carried->days == lamp.plan.days);
    CHECK(carried->totals.on_site == lamp.plan.totals.on_site);
    CHECK(!carried->totals.bound);
  }

  TEST_CASE("with shorter steps the calls are later and the plan is right") {
    // worked out below: steps end as they did
    const gp::Production film = one_chair();
    const gp::Plan plan = planned(film, quick());
    REQUIRE(plan.totals.on_site == 225);
    const auto carried = gp::whatif::carried_over(plan, done(film, {"quicker chalk 5"}), {});
    REQUIRE(carried);
    // 15 minutes up to 9:20, 9:40, 10:00: from 9:05, 9:25, 9:45, called at 9:00, 9:20, 9:40
    CHECK(carried->totals.on_site == 90 + 70 + 50);
    CHECK(carried->days[0].wears[0].from == at("09:05"));
    CHECK(carried->days[0].people[0].call == at("09:00"));
  }

  TEST_CASE("a plan that breaks a rule after the change is none") {
    const gp::Production film = one_chair();
    const gp::Plan plan = planned(film, quick());
    CHECK(!gp::whatif::carried_over(plan, done(film, {"without bo"}), {}));
    CHECK(!gp::whatif::carried_over(plan, done(film, {"first-shot 10:30", "any-time attic"}), {}));
    CHECK(!gp::whatif::carried_over(plan, done(film, {"nobody-before 09:00"}), {}));
    CHECK(gp::whatif::carried_over(plan, done(film, {"nobody-before 08:55"}), {}));
  }

  TEST_CASE("a dropped scene is taken out with the looks that only it wanted") {
    const gp::Production film = gp::test::production_of(R"({
      "greasepaint": 1, "title": "Two", "days": [{"date": "2027-05-01"}],
      "people": [{"id": "ana"}, {"id": "bo"}],
      "roles": [{"id": "ghost", "person": "ana", "look": "chalk"}, {"id": "cat", "person": "bo"}],
      "looks": [{"id": "chalk", "steps": [{"at": "mirror", "minutes": 20}]}],
      "stations": [{"id": "mirror"}],
      "scenes": [{"id": "attic", "shoot_minutes": 30, "cast": [{"role": "ghost"}]},
                 {"id": "roof", "shoot_minutes": 10, "cast": [{"role": "cat"}]}]
    })");
    const gp::Plan plan = planned(film, quick());
    REQUIRE(plan.days[0].scenes.size() == 2);
    const Changed changed = done(film, {"drop attic"});
    const auto carried = gp::whatif::carried_over(plan, changed, {});
    REQUIRE(carried);
    CHECK(carried->days[0].scenes.size() == 1);
    CHECK(carried->days[0].scenes[0].scene == gp::SceneId(0));
    CHECK(carried->days[0].wears.empty());
    CHECK(carried->days[0].steps.empty());
    REQUIRE(carried->days[0].people.size() == 1);
    CHECK(carried->days[0].people[0].person == gp::PersonId(1));
  }

  TEST_CASE("more help never hurts: the best value never gets worse, whatever the search finds") {
    int tried = 0;
    int carried = 0;
    int better = 0;
    std::map<std::size_t, int> kinds;
    for (std::uint64_t i = 0; i < gp::test::cases(90); ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::small()));
      const gp::Plan plan = planned(film, quick(seed));
      const gp::Price before = gp::price(film, plan);
      const std::vector<Change> helps = pure_helps(film, plan);
      for (std::size_t h = seed % 2; h < helps.size(); h += 2) {
        CAPTURE(gp::whatif::describe(film, helps[h]));
        const auto applied = gp::whatif::apply(film, {helps[h]});
        const auto* changed = std::get_if<Changed>(&applied);
        if (changed == nullptr) continue;
        gp::Wishes wishes = quick(seed + 77);  // other luck
        gp::Stop stop;
        const gp::whatif::Priced after = gp::whatif::plan_again(plan, *changed, wishes, stop);
        CHECK(gp::check(changed->production, after.plan).empty());
        CHECK(after.price == gp::price(changed->production, after.plan));
        CHECK(after.plan.totals.weighted_on_site == after.price.weighted_on_site);
        CHECK(!gp::better(before, after.price, film.aim));
        if (after.plan.totals.bound && film.aim == gp::Aim::least_time) {
          CHECK(*after.plan.totals.bound <= after.price.weighted_on_site);
        }
        ++tried;
        ++kinds[helps[h].index()];
        if (after.carried) ++carried;
        if (gp::better(after.price, before, film.aim)) ++better;
      }
    }
    MESSAGE(tried << " helps tried, " << carried << " plans carried over, " << better << " better");
    CHECK((tried > 500 || gp::test::kSlowBuild));
    CHECK(carried > 0);
    CHECK(better > 0);
    CHECK(kinds.size() >= 6);
  }
}

TEST_SUITE("explain/whatif/difference") {
  TEST_CASE("a plan does not differ from itself") {
    const gp::test::Planned lamp = gp::test::lamp();
    const auto none =
        gp::whatif::difference(lamp.production, lamp.plan, lamp.production, lamp.plan);
    CHECK(none.calls.empty());
    CHECK(none.won.empty());
    CHECK(none.lost.empty());
    CHECK(none.heads.empty());
    CHECK(none.price.before == none.price.after);
    CHECK(none.days.size() == lamp.plan.days.size());
  }

  TEST_CASE("calls that move, come and go; scenes lost and won; heads") {
    gp::test::Planned one = gp::test::lamp();
    gp::test::Planned two = one;
    // everyone's call is on that day; the first is called ten minutes later, the last not at all
    gp::Stay& first = two.plan.days[0].people.front();
    first.call += Minutes{10};
    const gp::PersonId gone = two.plan.days[0].people.back().person;
    REQUIRE(gone != first.person);
    two.plan.days[0].people.pop_back();
    const gp::SceneId lost = two.plan.days[0].scenes.back().scene;
    two.plan.days[0].scenes.pop_back();
    two.plan.not_filmed.push_back({lost, "the lamp is broken"});
    two.plan.unfilled.clear();
    two.plan.unfilled.push_back({two.plan.days[0].scenes[0].scene, {}, "holding the lamp", 2, ""});
    one.plan.unfilled.clear();
    const auto all = gp::whatif::difference(one.production, one.plan, two.production, two.plan);
    REQUIRE(all.calls.size() == 2);
    for (const auto& row : all.calls) {
      if (row.person == one.production.people[first.person].id) {
        CHECK(row.later == Minutes{10});
        CHECK(row.call.after->minutes - row.call.before->minutes == 10);
      } else {
        CHECK(row.person == one.production.people[gone].id);
        CHECK(row.call.before);
        CHECK(!row.call.after);
      }
    }
    REQUIRE(all.lost.size() == 1);
    CHECK(all.lost[0].scene == one.production.scenes[lost].id);
    CHECK(all.lost[0].why == "the lamp is broken");
    CHECK(all.won.empty());
    REQUIRE(all.heads.size() == 1);
    CHECK(all.heads[0].what == "holding the lamp");
    CHECK(all.heads[0].job);
    CHECK(all.heads[0].missing == gp::whatif::Both<int>{0, 2});
    CHECK(all.people.before == all.people.after + 1);
    // and the other way round
    const auto back = gp::whatif::difference(two.production, two.plan, one.production, one.plan);
    REQUIRE(back.won.size() == 1);
    CHECK(back.lost.empty());
    CHECK(back.heads[0].missing == gp::whatif::Both<int>{2, 0});
  }

  TEST_CASE("a scene that was dropped is no scene lost") {
    const gp::Production film = one_chair();
    const Changed changed = done(film, {"drop attic"});
    gp::Stop stop;
    const auto both = gp::whatif::compare(film, changed, quick(), stop);
    CHECK(both.difference.lost.empty());
    REQUIRE(both.difference.no_longer.size() == 1);
    CHECK(both.difference.no_longer[0].scene == "attic");
    CHECK(both.difference.price.after.on_site == 0);
    CHECK(both.difference.calls.size() == 3);
  }
}

TEST_SUITE("explain/whatif/best help") {
  // One chair, 20 minutes each, the shot at 10:00 to 10:30: steps from 9:00, 9:20 and 9:40; five
  // minutes to sign in: calls at 8:55, 9:15 and 9:35, so 95 + 75 + 55 = 225 minutes on site.
  TEST_CASE("what a chair and a quicker look are worth, by hand") {
    const gp::Production film = one_chair();
    gp::Stop stop;
    const auto ranking = gp::whatif::best_help(film, quick(), stop);
    CHECK(ranking.price.on_site == 225);
    CHECK(ranking.whole);
    CHECK(ranking.searches == 3);
    CHECK(ranking.noise == gp::whatif::Gain{});
    CHECK(ranking.helps.size() == ranking.to_try);
    // two chairs: steps from 9:20, 9:40 and 9:40: 75 + 55 + 55 = 185
    const TriedHelp& chair = help(ranking, "chairs mirror +1");
    CHECK(chair.gain.saved == 40);
    CHECK(chair.worth == Worth::better);
    // 15 minutes each: steps from 9:15, 9:30 and 9:45: 80 + 65 + 50 = 195
    const TriedHelp& quicker = help(ranking, "quicker chalk 5");
    CHECK(quicker.gain.saved == 30);
    CHECK(ranking.helps[0].written == "chairs mirror +1");
    CHECK(ranking.helps[1].written == "quicker chalk 5");
    CHECK(help(ranking, "friend").worth == Worth::nothing);
    CHECK(help(ranking, "wrap +30 2027-05-01").worth == Worth::nothing);
    // with a later first shot the scene at ten cannot be filmed
    const TriedHelp& later = help(ranking, "first-shot +30 2027-05-01");
    CHECK(later.worth == Worth::worse);
    CHECK(later.scenes_lost == std::vector<std::string>{"attic"});
    CHECK(ranking.helps.back().written == later.written);
  }

  TEST_CASE("heads come before hours") {
    const gp::Production film = one_chair("4");  // only three may
    gp::Stop stop;
    const auto ranking = gp::whatif::best_help(film, quick(), stop);
    CHECK(ranking.price.unfilled == 1);
    CHECK(ranking.helps[0].written == "friend ghost");
    CHECK(ranking.helps[0].gain.heads == 1);
    // the fourth sits in the chair before the others: from 8:40, called 8:35: 115 minutes more
    CHECK(ranking.helps[0].gain.saved == -115);
    CHECK(ranking.helps[0].worth == Worth::better);
    CHECK(ranking.helps[1].written == "chairs mirror +1");
    CHECK(help(ranking, "friend").worth == Worth::nothing);  // not one of those it is taken from
  }

  TEST_CASE("the same ranking for any number of threads") {
    const gp::Production film = gp::test::production_of(
        gp::test::random_production(gp::test::seed() + 3, gp::test::ProductionSize::small()));
    gp::Stop stop;
    gp::Wishes wishes = quick();
    const std::string one =
        gp::whatif::write_ranking(film, gp::whatif::best_help(film, wishes, stop));
    wishes.threads = 3;
    CHECK(gp::whatif::write_ranking(film, gp::whatif::best_help(film, wishes, stop)) == one);
  }

  TEST_CASE("interrupted: the ranking so far, and marked as such") {
    const gp::Production film = gp::test::production_of(
        gp::test::random_production(gp::test::seed() + 5, gp::test::ProductionSize::medium()));
    std::atomic<bool> requested = false;
    gp::Stop stop(std::nullopt, &requested);
    gp::Wishes wishes = quick();
    wishes.effort = 1;
    std::size_t told = 0;
    const auto ranking = gp::whatif::best_help(
        film, wishes, stop, [&](std::size_t made, std::size_t of, const std::string&) {
          told = std::max(told, made);
          if (of > 0 && made >= 1) requested = true;
        });
    CHECK(!ranking.whole);
    CHECK(told >= 1);
    CHECK(ranking.helps.size() >= 1);
    CHECK(ranking.helps.size() < ranking.to_try);
    CHECK(gp::check(film, ranking.plan).empty());
  }

  TEST_CASE("every small help can be said on the command line") {
    for (std::uint64_t i = 0; i < 30; ++i) {
      const gp::Production film = gp::test::production_of(
          gp::test::random_production(gp::test::seed() + i, gp::test::ProductionSize::medium()));
      const gp::Plan nobody;
      for (const Change& change : gp::whatif::small_helps(film, nobody, {})) {
        const auto words = gp::whatif::written(film, change);
        REQUIRE_MESSAGE(words, gp::whatif::describe(film, change));
        const auto read = gp::whatif::read_change(film, *words);
        REQUIRE_MESSAGE(std::holds_alternative<Change>(read), *words);
        CHECK_MESSAGE(std::get<Change>(read) == change, *words);
      }
    }
  }

  TEST_CASE("as JSON: both totals, and what differs") {
    const gp::Production film = one_chair();
    gp::Stop stop;
    const std::vector<std::string> texts = {"chairs mirror +1"};
    const auto both = gp::whatif::compare(film, done(film, texts), quick(), stop);
    const auto json = nlohmann::json::parse(gp::whatif::write_comparison(
        film, {std::get<Change>(gp::whatif::read_change(film, texts[0]))}, both));
    CHECK(json["changes"][0]["change"] == "chairs mirror +1");
    CHECK(json["changes"][0]["text"] == "1 chair more at Mirror (2)");
    CHECK(json["before"]["on_site"] == 225);
    CHECK(json["after"]["on_site"] == 185);
    CHECK(json["difference"]["on_site"] == -40);
    CHECK(json["before"]["days"][0]["first_call"] == "08:55");
    CHECK(json["after"]["days"][0]["first_call"] == "09:15");
    CHECK(json["same_plan"] == false);
    CHECK(json["difference"]["calls"].size() >= 2);
  }
}
