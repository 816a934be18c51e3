#include "prep/day_draft.h"

#include "support/builder.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::Minute;
using gp::Minutes;
using gp::PersonId;
using gp::SceneId;
using gp::Snag;
using gp::Span;
using gp::test::at;

namespace {

/// A day being planned, spoken to by the ids of its file.
struct Drafted : gp::test::Planned {
  explicit Drafted(const std::string& text)
      : frame(read(text), gp::DayId(0), {}),
        staff(production, {}),
        draft(production, frame, staff) {
    draft.begin(std::vector<std::optional<Minute>>(frame.meals.size()), nullptr);
  }
  Drafted(const Drafted&) = delete;
  Drafted& operator=(const Drafted&) = delete;

  const gp::Production& read(const std::string& text) {
    production = gp::test::production_of(text);
    return production;
  }
  bool cast(const std::string& who,
            const std::string& role_id,
            const std::string& from,
            const std::string& until) {
    return draft.add_cast(
        person(who), production.roles[role(role_id)], SceneId(0), {at(from), at(until)});
  }
  bool crew(const std::string& who, const std::string& from, const std::string& until) {
    return draft.add_crew(person(who), SceneId(0), {at(from), at(until)});
  }
  const gp::PersonDay& of(const std::string& who) { return draft.person(person(who)); }
  Span stay(const std::string& who) { return gp::stay_of(draft.ground(), of(who))->stay; }
  /// When the person gets the station ready; an empty span at 0: never.
  Span ready(const std::string& who) {
    for (const gp::Engagement& row : of(who).engagements) {
      if (row.doing == gp::Doing::ready) return row.when;
    }
    return {};
  }

  gp::DayFrame frame;
  gp::StaffLists staff;
  gp::DayDraft draft;
};

Span from_to(const std::string& from, const std::string& until) {
  return {at(from), at(until)};
}

/// A rail, a chair with one painter who gets it ready in 15 minutes, sinks; a guard takes 6 at the
/// rail, 15 in the chair and 5 to dry, and 8 to come off; a ghost is a sheet: 4 at the rail.
std::string guards(const std::string& look = "", const std::string& day = "") {
  return R"({"greasepaint": 1, "title": "Guards",
    "days": [{"date": "2027-04-17", "base": "hall", "nobody_before": "08:00")" +
         day + R"(}],
    "places": [{"id": "hall"}, {"id": "beach", "minutes_to": {"hall": 6}}],
    "people": [{"id": "ada"}, {"id": "bo", "can": ["paint"]}, {"id": "dee"}, {"id": "eve"},
               {"id": "finn"}],
    "stations": [{"id": "rail", "places": 2},
                 {"id": "chair", "staff": ["bo"], "set_minutes": 15}, {"id": "sinks", "places": 2}],
    "items": [{"id": "helmet", "instead": ["bucket"]}, {"id": "bucket"}, {"id": "lamp", "count": 2}],
    "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 6},
                 {"at": "chair", "minutes": 15, "by": "paint", "then_wait": 5}],
               "off": [{"at": "sinks", "minutes": 8}])" +
         look + R"(},
              {"id": "ghost", "steps": [{"at": "rail", "minutes": 4}]}, {"id": "cape"}],
    "roles": [{"id": "guard", "crowd": true, "look": "guard"},
              {"id": "ghost", "crowd": true, "look": "ghost"},
              {"id": "cape", "crowd": true, "look": "cape"},
              {"id": "clerk", "crowd": true}, {"id": "hand", "crowd": true, "look": "any"}],
    "scenes": [{"id": "march", "shoot_minutes": 30, "set": "gate", "set_minutes": 20,
                "reset_minutes": 3, "props": [{"item": "lamp", "count": 2}],
                "cast": [{"role": "guard"}, {"role": "ghost"}, {"role": "clerk"}, {"role": "hand"}]},
               {"id": "return", "shoot_minutes": 10, "set": "gate", "set_minutes": 20,
                "reset_minutes": 3},
               {"id": "swim", "shoot_minutes": 10, "set_minutes": 7, "place": "beach",
                "props": [{"item": "lamp"}]}]})";
}

}  // namespace

TEST_SUITE("prep/day_draft") {
  TEST_CASE(
      "a chain is laid backwards from the shot: drying, chair, rail; whoever paints gets ready") {
    Drafted day(guards());
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    REQUIRE(day.of("ada").blocks.size() == 1);
    const gp::Block& block = day.of("ada").blocks[0];
    REQUIRE(block.on.size() == 2);
    // Dry by 10:00 means out of the chair by 09:55, in it from 09:40, at the rail from 09:34.
    CHECK(block.on[1].when == from_to("09:40", "09:55"));
    CHECK(block.on[1].by == day.person("bo"));
    CHECK(block.on[1].station == day.station("chair"));
    CHECK(block.on[0].when == from_to("09:34", "09:40"));
    CHECK_FALSE(block.on[0].by.valid());
    // Taken off as soon as the scene is over.
    REQUIRE(block.off.size() == 1);
    CHECK(block.off[0].when == from_to("10:30", "10:38"));
    CHECK(day.stay("ada") == from_to("09:25", "10:38"));  // 09:34 less 5, rounded to fives
    CHECK(day.ready("bo") == from_to("09:25", "09:40"));
    CHECK(day.stay("bo") == from_to("09:20", "09:55"));
    CHECK(day.of("dee").engagements.empty());
  }

  TEST_CASE(
      "the second for the same chair is painted before the first, and the chair got ready sooner") {
    Drafted day(guards());
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    REQUIRE(day.cast("dee", "guard", "10:00", "10:30"));
    const auto& on = day.of("dee").blocks[0].on;
    CHECK(on[1].when.until <= at("09:40"));
    CHECK(on[1].by == day.person("bo"));
    CHECK(on[0].when.until <= on[1].when.from);
    CHECK(day.ready("bo").length() == Minutes{15});
    CHECK(day.ready("bo").until <= on[1].when.from);
    // Two at the rail at once, so both come off at once too.
    CHECK(day.of("ada").blocks[0].off[0].when == from_to("10:30", "10:38"));
    CHECK(day.of("dee").blocks[0].off[0].when == from_to("10:30", "10:38"));
    CHECK(day.of("ada").blocks[0].off[0].place != day.of("dee").blocks[0].off[0].place);
  }

  TEST_CASE("nobody paints themself: the only painter cannot be made up") {
    Drafted day(guards());
    CHECK_FALSE(day.cast("bo", "guard", "10:00", "10:30"));
    CHECK(day.draft.snag() == Snag::chair);
    CHECK(day.of("bo").engagements.empty());
    CHECK(day.of("bo").blocks.empty());
  }

  TEST_CASE("nobody is ready before there was time: 08:00, sign-in, 26 minutes of chain") {
    Drafted day(guards());
    // bo is called at 08:00 at the earliest: ready from 08:05 to 08:20, paints to 08:35, dry 08:40.
    CHECK_FALSE(day.cast("ada", "guard", "08:39", "09:00"));
    CHECK(day.draft.snag() == Snag::chair);
    CHECK(day.draft.retry_at() > at("08:39"));
    CHECK(day.of("bo").engagements.empty());
    CHECK(day.cast("ada", "guard", "08:40", "09:00"));
    CHECK(day.stay("bo").from == at("08:00"));
  }

  TEST_CASE("a look is kept on for the next scene and comes off after the last") {
    Drafted day(guards());
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    REQUIRE(day.cast("ada", "guard", "11:00", "11:20"));
    REQUIRE(day.of("ada").blocks.size() == 1);
    const gp::Block& block = day.of("ada").blocks[0];
    CHECK(block.scenes == std::vector<Span>{from_to("10:00", "10:30"), from_to("11:00", "11:20")});
    CHECK(block.on[1].when == from_to("09:40", "09:55"));
    CHECK(block.off[0].when == from_to("11:20", "11:28"));
    CHECK(day.stay("ada") == from_to("09:25", "11:28"));
  }

  TEST_CASE("a scene found later but shot earlier brings the chain forward, once") {
    Drafted day(guards());
    REQUIRE(day.cast("ada", "guard", "11:00", "11:20"));
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    REQUIRE(day.of("ada").blocks.size() == 1);
    CHECK(day.of("ada").blocks[0].on[0].when == from_to("09:34", "09:40"));
    CHECK(day.of("ada").blocks[0].off[0].when == from_to("11:20", "11:28"));
    CHECK(day.ready("bo") == from_to("09:25", "09:40"));  // no second one left behind at 10:25
    CHECK(day.of("bo").engagements.size() == 2);
  }

  TEST_CASE("another look: the first comes off before the second goes on") {
    Drafted day(guards());
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    REQUIRE(day.cast("ada", "ghost", "11:00", "11:10"));
    REQUIRE(day.of("ada").blocks.size() == 2);
    CHECK(day.of("ada").blocks[0].off[0].when == from_to("10:30", "10:38"));
    CHECK(day.of("ada").blocks[1].on[0].when == from_to("10:56", "11:00"));
    CHECK(day.of("ada").blocks[1].off.empty());
    CHECK(day.stay("ada").until == at("11:10"));
    // Eight minutes to take off, four to put on: 12 are enough, 11 are not.
    Drafted close(guards());
    REQUIRE(close.cast("ada", "guard", "10:00", "10:30"));
    CHECK_FALSE(close.cast("ada", "ghost", "10:41", "10:50"));
    CHECK(close.of("ada").blocks.size() == 1);
    CHECK(close.cast("ada", "ghost", "10:42", "10:50"));
  }

  TEST_CASE("a look that takes no steps still waits for the other to come off") {
    Drafted day(guards());
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    CHECK_FALSE(day.cast("ada", "cape", "10:37", "10:45"));
    CHECK(day.of("ada").blocks.size() == 1);
    REQUIRE(day.cast("ada", "cape", "10:38", "10:45"));
    REQUIRE(day.of("ada").blocks.size() == 2);
    CHECK(day.of("ada").blocks[1].on.empty());
    CHECK(day.of("ada").blocks[1].from() == at("10:38"));
    CHECK(day.of("ada").blocks[1].until() == at("10:45"));
  }

  TEST_CASE("who no longer does anything at a station need not get it ready") {
    // li paints too, and leaves at ten; bo holds a light from 09:00 to 10:20.
    std::string text = guards();
    const auto put = [&](const std::string& old, const std::string& now) {
      text.replace(text.find(old), old.size(), now);
    };
    put(R"({"id": "finn"})",
        R"({"id": "li", "can": ["paint"], "free": ["2027-04-17 08:00-10:00"]})");
    put(R"("staff": ["bo"])", R"("staff": ["bo", "li"])");
    Drafted day(text);
    REQUIRE(day.crew("bo", "09:00", "10:20"));
    REQUIRE(day.cast("ada", "guard", "11:00", "11:20"));
    CHECK(day.ready("bo") == from_to("10:25", "10:40"));
    // Shot at ten, ada must be painted at 09:40: by li, and bo is done with the chair.
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    CHECK(day.of("ada").blocks[0].on[1].by == day.person("li"));
    CHECK(day.ready("li") == from_to("09:25", "09:40"));
    CHECK(day.of("bo").engagements.size() == 1);
  }

  TEST_CASE("a look that no longer holds is put on a second time") {
    // The chain ends at 09:55; a scene to 10:55 is the last that an hour's hold allows.
    Drafted held(guards(R"(, "holds_for": 60)"));
    REQUIRE(held.cast("ada", "guard", "10:00", "10:30"));
    REQUIRE(held.cast("ada", "guard", "10:40", "10:55"));
    CHECK(held.of("ada").blocks.size() == 1);
    Drafted over(guards(R"(, "holds_for": 60)"));
    REQUIRE(over.cast("ada", "guard", "10:00", "10:30"));
    // To 10:56 it would have to go on anew: off 10:30-10:38, on 26 minutes: not before 11:04.
    CHECK_FALSE(over.cast("ada", "guard", "10:41", "10:56"));
    CHECK_FALSE(over.cast("ada", "guard", "11:03", "11:10"));
    REQUIRE(over.cast("ada", "guard", "11:04", "11:10"));
    REQUIRE(over.of("ada").blocks.size() == 2);
    CHECK(over.of("ada").blocks[0].off[0].when == from_to("10:30", "10:38"));
    CHECK(over.of("ada").blocks[1].on[0].when == from_to("10:38", "10:44"));
    CHECK(over.of("ada").blocks[1].on[1].when == from_to("10:44", "10:59"));
    // A scene that is longer than the hold cannot be played at all.
    Drafted never(guards(R"(, "holds_for": 60)"));
    CHECK_FALSE(never.cast("ada", "guard", "10:00", "10:56"));
    CHECK(never.draft.snag() == Snag::holds);
  }

  TEST_CASE("as themselves means with the look off, as anything means it may stay") {
    Drafted day(guards());
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    CHECK_FALSE(day.cast("ada", "clerk", "10:37", "10:45"));
    REQUIRE(day.cast("ada", "clerk", "10:38", "10:45"));
    CHECK(day.of("ada").as_self == std::vector<Span>{from_to("10:38", "10:45")});
    // Now the look must be off by 10:38, whatever comes: no second scene in it without a new chain.
    CHECK_FALSE(day.cast("ada", "guard", "10:45", "10:50"));

    REQUIRE(day.cast("dee", "guard", "11:00", "11:30"));
    REQUIRE(day.cast("dee", "hand", "11:32", "11:40"));
    CHECK(day.of("dee").as_self.empty());
    // Two minutes are too few for the sinks: it comes off afterwards.
    CHECK(day.of("dee").blocks[0].off[0].when == from_to("11:40", "11:48"));
  }

  TEST_CASE("work behind the camera needs no change, and the off chain makes way for it") {
    Drafted day(guards());
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    REQUIRE(day.crew("ada", "10:30", "10:50"));
    CHECK(day.of("ada").blocks[0].off[0].when == from_to("10:50", "10:58"));
    CHECK(day.stay("ada") == from_to("09:25", "10:58"));
  }

  TEST_CASE("whoever is busy cannot be had, and is told when") {
    Drafted day(guards());
    REQUIRE(day.crew("ada", "10:00", "10:30"));
    CHECK_FALSE(day.crew("ada", "10:15", "10:25"));
    CHECK(day.draft.snag() == Snag::busy);
    CHECK(day.draft.retry_at() == at("10:30"));
    CHECK(day.crew("ada", "10:30", "10:40"));
    CHECK(day.of("ada").engagements.size() == 2);
  }

  TEST_CASE(
      "a look's item is held from its first step to the end of its off chain; then a stand-in") {
    Drafted day(guards(R"(, "items": ["helmet"])"));
    REQUIRE(day.cast("ada", "guard", "10:00", "10:30"));
    CHECK(day.of("ada").blocks[0].items == std::vector<gp::ItemId>{day.item("helmet")});
    CHECK(day.of("ada").blocks[0].items_held == from_to("09:34", "10:38"));
    REQUIRE(day.cast("dee", "guard", "10:00", "10:30"));
    CHECK(day.of("dee").blocks[0].items == std::vector<gp::ItemId>{day.item("bucket")});
    CHECK_FALSE(day.cast("eve", "guard", "10:00", "10:30"));
    CHECK(day.draft.snag() == Snag::item);
    CHECK(day.of("eve").engagements.empty());
    // Both are given back at 10:38; the first step is 26 minutes before the shot.
    CHECK_FALSE(day.cast("eve", "guard", "11:03", "11:10"));
    REQUIRE(day.cast("eve", "guard", "11:04", "11:10"));
    CHECK(day.of("eve").blocks[0].items == std::vector<gp::ItemId>{day.item("helmet")});
    CHECK(day.of("eve").blocks[0].items_held == from_to("10:38", "11:18"));
    // To go on as a guard at 11:30 ada would need one thing from 09:34 to 11:48. eve has the helmet
    // until 11:18 and dee had the bucket at 09:34: so she is made up anew, with the bucket.
    REQUIRE(day.cast("ada", "guard", "11:30", "11:40"));
    REQUIRE(day.of("ada").blocks.size() == 2);
    CHECK(day.of("ada").blocks[0].items_held == from_to("09:34", "10:38"));
    CHECK(day.of("ada").blocks[1].items == std::vector<gp::ItemId>{day.item("bucket")});
    CHECK(day.of("ada").blocks[1].items_held == from_to("11:04", "11:48"));
  }

  TEST_CASE("props are taken from the set-up to the end, and a prop that is out says until when") {
    Drafted day(guards());
    const Span march = from_to("09:40", "10:30");
    CHECK_FALSE(day.draft.props_out(day.scene("march"), march).has_value());
    day.draft.take_props(day.scene("march"), march);
    // 10:29 is the last minute with no lamp left.
    CHECK(day.draft.props_out(day.scene("swim"), from_to("10:20", "10:37")) == at("10:29"));
    CHECK_FALSE(day.draft.props_out(day.scene("swim"), from_to("10:30", "10:47")).has_value());
    CHECK_FALSE(day.draft.props_out(day.scene("return"), march).has_value());
  }

  TEST_CASE("a unit: set-up, a shorter one on the same set, and the way to another place") {
    Drafted day(guards());
    CHECK(day.draft.set_up(day.scene("march")) == Minutes{20});
    CHECK(day.draft.unit_free(day.scene("march")) == at("08:00"));
    day.draft.take_unit(day.scene("march"), from_to("10:00", "10:30"));
    CHECK(day.draft.set_up(day.scene("return")) == Minutes{3});
    CHECK(day.draft.set_up(day.scene("swim")) == Minutes{7});
    CHECK(day.draft.unit_free(day.scene("return")) == at("10:30"));
    CHECK(day.draft.unit_free(day.scene("swim")) == at("10:36"));
    day.draft.take_unit(day.scene("swim"), from_to("10:43", "10:53"));
    CHECK(day.draft.set_up(day.scene("return")) == Minutes{20});  // another set between
    CHECK(day.draft.unit_free(day.scene("return")) == at("10:59"));
  }

  TEST_CASE("a meal in turns: everyone there all through its span, so many at once") {
    Drafted day(guards("",
                       R"(, "meals": [{"name": "soup", "minutes": 20, "between": "12:00-13:00",
                           "together": false, "seats": 1}])"));
    for (const std::string who : {"ada", "dee", "eve"}) {
      REQUIRE(day.crew(who, "11:30", "12:00"));
      CHECK(day.of(who).meals.empty());
      REQUIRE(day.crew(who, "13:00", "13:10"));
      REQUIRE(day.of(who).meals.size() == 1);
    }
    CHECK(day.of("ada").meals[0].when == from_to("12:00", "12:20"));
    CHECK(day.of("dee").meals[0].when == from_to("12:20", "12:40"));
    CHECK(day.of("eve").meals[0].when == from_to("12:40", "13:00"));
    REQUIRE(day.crew("finn", "11:30", "12:00"));
    CHECK_FALSE(day.crew("finn", "13:00", "13:10"));
    CHECK(day.draft.snag() == Snag::meal);
    CHECK(day.of("finn").engagements.size() == 1);
    // Who is not there to the end of the span need not eat.
    CHECK(day.crew("finn", "12:30", "12:59"));
    // Work at 12:00 moves ada's soup, but to where no seat is: it cannot be.
    CHECK_FALSE(day.crew("ada", "12:05", "12:10"));
    CHECK(day.of("ada").meals[0].when == from_to("12:00", "12:20"));
  }

  TEST_CASE(
      "a meal together: nobody works through it, and it must be held where all would be there") {
    const std::string lunch =
        R"(, "meals": [{"name": "lunch", "minutes": 30, "between": "12:00-13:00"}])";
    Drafted held(guards("", lunch));
    held.draft.begin({at("12:15")}, nullptr);
    CHECK_FALSE(held.crew("ada", "12:00", "12:16"));
    CHECK(held.crew("ada", "12:00", "12:15"));
    CHECK(held.crew("ada", "12:45", "13:05"));
    // Her stay, 11:55 to 13:05, covers it: she eats.
    CHECK(gp::stay_of(held.draft.ground(), held.of("ada"))->together ==
          std::vector<std::size_t>{0});
    Drafted not_held(guards("", lunch));
    REQUIRE(not_held.crew("ada", "11:00", "11:30"));
    CHECK_FALSE(not_held.crew("ada", "13:00", "13:10"));
    CHECK(not_held.draft.snag() == Snag::meal);
    CHECK(not_held.crew("ada", "12:00", "12:59"));
  }

  TEST_CASE("a free span is kept from call to release, drying and off chain included") {
    // ada is free from 09:25: that is when 09:34 is called for. To 10:38: the sinks are just done.
    const auto text = [](const std::string& free) {
      std::string all = guards();
      const std::string who = R"({"id": "ada"})";
      return all.replace(
          all.find(who), who.size(), R"({"id": "ada", "free": ["2027-04-17 )" + free + R"("]})");
    };
    Drafted just(text("09:25-10:38"));
    CHECK(just.cast("ada", "guard", "10:00", "10:30"));
    Drafted late(text("09:26-10:38"));
    CHECK_FALSE(late.cast("ada", "guard", "10:00", "10:30"));
    CHECK(late.of("bo").engagements.empty());
    Drafted early(text("09:25-10:37"));
    CHECK_FALSE(early.cast("ada", "guard", "10:00", "10:30"));
    CHECK(early.of("bo").engagements.empty());
  }

  TEST_CASE("begin: a meal that overlaps another makes way; one that no longer fits is not held") {
    Drafted day(guards("",
                       R"(, "meals": [{"name": "lunch", "minutes": 30, "between": "12:00-13:00"},
                                      {"name": "cake", "minutes": 20, "between": "12:00-13:00"}])"));
    day.draft.begin({at("12:15"), at("12:30")}, nullptr);
    REQUIRE(day.draft.ground().together.size() == 2);
    CHECK(day.draft.ground().together[0] == from_to("12:15", "12:45"));
    CHECK_FALSE(day.draft.ground().together[1].has_value());  // 12:45-13:05 is past its span
    day.draft.begin({at("12:05"), at("12:30")}, nullptr);
    CHECK(day.draft.ground().together[1] == from_to("12:35", "12:55"));
    day.draft.begin({std::nullopt, at("12:30")}, nullptr);
    CHECK_FALSE(day.draft.ground().together[0].has_value());
    CHECK(day.draft.ground().together[1] == from_to("12:30", "12:50"));
  }

  TEST_CASE("an estimate: longer for who is not there yet, for a chain, and for whoever is dear") {
    Drafted day(guards());
    const Span shot = from_to("10:00", "10:30");
    // Not there yet: 30 of shot and 5 to sign in.
    CHECK(day.draft.estimate(day.person("ada"), gp::LookId(), shot) == 35);
    // A guard: 26 before, 8 after, and half of the 26 again because chairs are scarce.
    CHECK(day.draft.estimate(day.person("ada"), day.look("guard"), shot) == 35 + 34 + 13);
    REQUIRE(day.crew("ada", "09:00", "10:10"));
    CHECK(day.draft.estimate(day.person("ada"), gp::LookId(), shot) == 20);
    gp::Table<PersonId, int> loath(day.production.people.size(), 7);
    day.draft.begin({}, &loath);
    CHECK(day.draft.estimate(day.person("ada"), gp::LookId(), shot) == 42);
  }
}
