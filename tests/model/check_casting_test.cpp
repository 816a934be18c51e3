#include "support/builder.h"

#include <set>

#include <doctest/doctest.h>

using gp::Answers;
using gp::check;
using gp::Minutes;
using gp::test::at;
using gp::test::lamp;
using gp::test::Planned;
using Rules = std::set<int>;

namespace {

/// Wick's hand is played by someone else: the one shot that needs nothing else changed.
Planned hand_played_by(const char* who) {
  Planned it = lamp();
  it.cast("wick", "hand") = {it.person(who)};
  it.recount();
  return it;
}

}  // namespace

TEST_SUITE("model/check: rule 9, casting") {
  TEST_CASE("one part, two people: over two scenes, and in one") {
    Planned scenes = lamp();
    scenes.cast("bow", "mayor") = {scenes.person("dov")};
    scenes.meal("tea").people = {scenes.person("ana")};
    scenes.recount();
    // dov would be on site from wick to bow and miss the tea
    scenes.meal("tea").people.push_back(scenes.person("dov"));
    scenes.recount();
    CHECK(scenes.broken() == Rules{9});

    Planned one = hand_played_by("dov");
    one.cast("wick", "hand").push_back(one.person("cleo"));
    one.recount();
    CHECK(one.broken() == Rules{9});
  }

  TEST_CASE("a part that is somebody else's") {
    Planned it = lamp();
    it.production.roles[it.role("keeper")].person = it.person("dov");
    CHECK(it.broken() == Rules{9});
  }

  TEST_CASE("somebody not among those asked for, without the skill, or not coming") {
    Planned from = lamp();
    from.production.roles[from.role("mayor")].from = {from.person("dov"), from.person("gil")};
    CHECK(from.broken() == Rules{9});
    Planned skill = lamp();
    skill.production.people[skill.person("dov")].can.clear();
    CHECK(skill.broken() == Rules{9});  // the hand sews
    CHECK(hand_played_by("cleo").broken().empty());
    Planned no = hand_played_by("dov");
    no.production.people[no.person("dov")].answer = gp::Answer::no;
    CHECK(no.broken() == Rules{9});
    CHECK(no.broken(Answers{true, true}) == Rules{9});
  }

  TEST_CASE("those who may come count only where the caller says so") {
    Planned it = hand_played_by("dov");
    gp::Answer& answer = it.production.people[it.person("dov")].answer;
    answer = gp::Answer::maybe;
    CHECK(it.broken() == Rules{9});
    CHECK(it.broken(Answers{false, true}) == Rules{9});
    CHECK(it.broken(Answers{true, false}).empty());
    answer = gp::Answer::asked;
    CHECK(it.broken(Answers{true, false}) == Rules{9});
    CHECK(it.broken(Answers{false, true}).empty());
    // staff too
    Planned staff = lamp();
    staff.production.people[staff.person("cleo")].answer = gp::Answer::maybe;
    CHECK(staff.broken() == Rules{9});
  }

  TEST_CASE("what someone will not do: a hazard of the scene, a tag of the role, one of the look") {
    Planned hazard = lamp();
    // bo will not go into the water
    hazard.production.scenes[hazard.scene("speech")].hazards = {"fog", "water"};
    CHECK(hazard.broken() == Rules{9});
    Planned role = lamp();
    role.production.roles[role.role("guard")].tags = {"water"};
    CHECK(role.broken() == Rules{9});
    Planned look = lamp();
    look.production.people[look.person("elif")].no = {"face-paint"};
    CHECK(look.broken() == Rules{9});
    Planned crew = lamp();
    crew.production.people[crew.person("fay")].no = {"fog"};
    CHECK(crew.broken() == Rules{9});
    // who fixed a part has asked
    Planned fixed = lamp();
    fixed.production.people[fixed.person("gil")].no = {"fog"};
    fixed.production.scenes[fixed.scene("bow")].hazards = {"fog"};
    CHECK(fixed.broken().empty());
  }

  TEST_CASE("nobody stands twice in one scene") {
    Planned crowd = lamp();
    crowd.cast("march", "guard") = {crowd.person("bo"), crowd.person("bo"), crowd.person("elif")};
    crowd.plan.unfilled.clear();
    crowd.recount();
    CHECK(crowd.broken() == Rules{3, 9});
    Planned both = lamp();
    both.production.people[both.person("elif")].can.emplace_back("light");
    both.crew("march", "light") = {both.person("elif")};
    both.recount();
    CHECK(both.broken() == Rules{3, 9});
  }

  TEST_CASE(
      "crew who do not fit: no skill, not among the asked, a job that the scene does not have") {
    Planned skill = lamp();
    skill.crew("march", "light") = {skill.person("gil")};
    skill.recount();
    // gil can make light; dov cannot. Gil is then here over the tea.
    skill.meal("tea").people.push_back(skill.person("gil"));
    skill.recount();
    CHECK(skill.broken().empty());
    skill.production.people[skill.person("gil")].can.clear();
    CHECK(skill.broken() == Rules{9});

    Planned from = lamp();
    from.production.units[from.unit("main")].crew[0].from = {from.person("fay")};
    CHECK(from.broken() == Rules{9});
    from.production.units[from.unit("main")].crew[0].from.clear();  // anybody
    CHECK(from.broken().empty());

    Planned job = lamp();
    job.planned("wick").crew.push_back({"smoke", {job.person("cleo")}});
    job.recount();
    CHECK(job.broken() == Rules{9});
  }

  TEST_CASE("a head missing and not told, told and not missing, and one too many") {
    Planned untold = lamp();
    untold.plan.unfilled.clear();
    CHECK(untold.broken() == Rules{9});
    Planned wrong = lamp();
    wrong.plan.unfilled.at(0).missing = 2;
    CHECK(wrong.broken() == Rules{9});
    Planned no_reason = lamp();
    no_reason.plan.unfilled.at(0).why.clear();
    CHECK(no_reason.broken() == Rules{9});
    Planned more = lamp();
    more.production.scenes[more.scene("salute")].cast = {};
    CHECK(more.broken() == Rules{9});
    Planned fewer = lamp();
    fewer.production.scenes[fewer.scene("march")].cast[0].people = 1;
    CHECK(fewer.broken() == Rules{9});
    Planned light = lamp();
    light.production.scenes[light.scene("march")].crew[0].people = 2;
    CHECK(light.broken() == Rules{9});
    light.plan.unfilled.push_back({light.scene("march"), gp::RoleId(), "light", 1, "one is here"});
    CHECK(light.broken().empty());
  }

  TEST_CASE("a scene is not filmed without one of its parts, whatever is told") {
    Planned it = lamp();
    it.cast("wick", "hand").clear();
    it.plan.unfilled.push_back({it.scene("wick"), it.role("hand"), "", 1, "nobody can sew"});
    it.recount();
    CHECK(it.broken() == Rules{9});
  }

  TEST_CASE("one job named by a scene and by its unit is one crew of both") {
    Planned it = lamp();
    it.production.scenes[it.scene("speech")].crew.push_back({"camera", 1, {"light"}, {}});
    CHECK(it.broken() == Rules{9});  // one short
    it.crew("speech", "camera").push_back(it.person("fay"));
    it.recount();
    CHECK(it.broken().empty());
    it.crew("speech", "camera").back() = it.person("dov");  // neither of the two kinds
    it.recount();
    CHECK(it.broken() == Rules{9});
  }
}
