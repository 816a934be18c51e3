#include "casting/slots.h"

#include "support/builder.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::Answers;
using gp::PersonId;
using gp::RoleId;
using gp::SceneId;
using gp::Slot;

namespace {

bool has(const gp::Tags& tags, const std::string& tag) {
  return std::find(tags.begin(), tags.end(), tag) != tags.end();
}

/// The text of the format: may this person be a head of a crowd, or play this part, in
/// all of these?
bool may_play(const gp::Production& film,
              Answers answers,
              PersonId who,
              const gp::Role& role,
              const std::vector<SceneId>& in) {
  const gp::Person& person = film.people[who];
  if (!answers.include(person.answer)) return false;
  if (!role.crowd && role.person.valid()) return role.person == who;
  if (role.from && std::find(role.from->begin(), role.from->end(), who) == role.from->end()) {
    return false;
  }
  for (const std::string& skill : role.needs) {
    if (!has(person.can, skill)) return false;
  }
  for (const std::string& refused : person.no) {
    if (has(role.tags, refused)) return false;
    if (role.look_kind == gp::LookKind::look && has(film.looks[role.look].tags, refused)) {
      return false;
    }
    for (SceneId scene : in) {
      if (has(film.scenes[scene].hazards, refused)) return false;
    }
  }
  if (role.look_kind != gp::LookKind::look) return true;
  // nobody does their own
  const auto another = [&](const gp::Step& step) {
    int able = 0;
    int others = 0;
    for (PersonId id : film.people.ids()) {
      const auto& staff = film.stations[step.at].staff;
      if (staff && std::find(staff->begin(), staff->end(), id) == staff->end()) continue;
      if (!answers.include(film.people[id].answer) || !has(film.people[id].can, step.by)) continue;
      ++able;
      if (id != who) ++others;
    }
    return step.by.empty() || able == 0 || others > 0;
  };
  const gp::Look& look = film.looks[role.look];
  return std::all_of(look.steps.begin(), look.steps.end(), another) &&
         std::all_of(look.off.begin(), look.off.end(), another);
}

bool may_help(const gp::Production& film,
              Answers answers,
              PersonId who,
              const gp::CrewCall& call,
              const gp::Scene& scene) {
  const gp::Person& person = film.people[who];
  if (!answers.include(person.answer)) return false;
  if (!call.from.empty() && std::find(call.from.begin(), call.from.end(), who) == call.from.end()) {
    return false;
  }
  for (const std::string& skill : call.needs) {
    if (!has(person.can, skill)) return false;
  }
  return std::none_of(person.no.begin(), person.no.end(), [&](const std::string& refused) {
    return has(scene.hazards, refused);
  });
}

/// One scene with one role or one job, and five people each of whom one thing sets apart.
std::string five(const std::string& role, const std::string& scene = "") {
  return R"({"greasepaint": 1, "title": "Five", "days": [{"date": "2027-04-17"}],
    "people": [{"id": "ada"}, {"id": "bo", "can": ["dance"], "no": ["water"]},
               {"id": "cleo", "no": ["face-paint"]}, {"id": "dov", "answer": "maybe"},
               {"id": "elif", "answer": "asked", "can": ["dance", "light"]},
               {"id": "finn", "answer": "no", "can": ["dance", "light"]}],
    "stations": [{"id": "rail"}],
    "looks": [{"id": "mud", "tags": ["face-paint"], "steps": [{"at": "rail", "minutes": 5}]}],
    "roles": [{"id": "guard")" +
         role + R"(}],
    "scenes": [{"id": "march", "shoot_minutes": 10, "cast": [{"role": "guard"}])" +
         scene + "}]}";
}

std::set<std::string> names(const gp::Production& film, const std::vector<PersonId>& people) {
  std::set<std::string> result;
  for (PersonId who : people) result.insert(film.people[who].id);
  return result;
}

using Names = std::set<std::string>;

Names candidates(const std::string& text, Answers answers = {}, std::size_t slot = 0) {
  const gp::Production film = gp::test::production_of(text);
  const gp::Slots slots(film, answers);
  return names(film, slots.of(SceneId(0)).at(slot).candidates);
}

constexpr Answers kMaybe{true, false};
constexpr Answers kAll{true, true};

}  // namespace

TEST_SUITE("casting/slots") {
  TEST_CASE("who has not said yes is asked only where the caller says so, who said no never") {
    CHECK(candidates(five("")) == Names{"ada", "bo", "cleo"});
    CHECK(candidates(five(""), kMaybe) == Names{"ada", "bo", "cleo", "dov"});
    CHECK(candidates(five(""), kAll) == Names{"ada", "bo", "cleo", "dov", "elif"});
  }

  TEST_CASE("a part and a crowd: needs, from, tags of the role and of its look, hazards") {
    for (const std::string crowd : {"", R"(, "crowd": true)"}) {
      CAPTURE(crowd);
      CHECK(candidates(five(crowd + R"(, "needs": ["dance"])"), kAll) == Names{"bo", "elif"});
      CHECK(candidates(five(crowd + R"(, "needs": ["dance", "light"])"), kAll) == Names{"elif"});
      CHECK(candidates(five(crowd + R"(, "from": ["cleo", "ada", "dov"])")) ==
            Names{"ada", "cleo"});
      CHECK(candidates(five(crowd + R"(, "tags": ["water"])")) == Names{"ada", "cleo"});
      CHECK(candidates(five(crowd + R"(, "look": "mud")")) == Names{"ada", "bo"});
      CHECK(candidates(five(crowd, R"(, "hazards": ["water", "fog"])")) == Names{"ada", "cleo"});
    }
  }

  TEST_CASE("a part given to somebody has nobody else, and nobody at all before they say yes") {
    CHECK(candidates(five(R"(, "person": "cleo")")) == Names{"cleo"});
    CHECK(candidates(five(R"(, "person": "dov")")).empty());
    CHECK(candidates(five(R"(, "person": "dov")"), kMaybe) == Names{"dov"});
  }

  TEST_CASE("behind the camera: needs, from and hazards, but neither looks nor the unit's cast") {
    const auto crew = [](const std::string& call, const std::string& more = "") {
      return five(R"(, "look": "mud", "tags": ["water"])",
                  R"(, "crew": [{"job": "light")" + call + "}]" + more);
    };
    CHECK(candidates(crew(""), kAll, 1) == Names{"ada", "bo", "cleo", "dov", "elif"});
    CHECK(candidates(crew(R"(, "needs": ["light"])"), kAll, 1) == Names{"elif"});
    CHECK(candidates(crew(R"(, "from": ["ada", "dov"])"), {}, 1) == Names{"ada"});
    CHECK(candidates(crew("", R"(, "hazards": ["water"])"), {}, 1) == Names{"ada", "cleo"});
  }

  TEST_CASE("a part and a crowd are asked for each scene's own hazards") {
    const auto two = [](const std::string& crowd) {
      std::string text = five(crowd);
      text.replace(text.rfind("]}"),
                   2,
                   R"(, {"id": "swim", "shoot_minutes": 5, "cast": [{"role": "guard"}],
                        "hazards": ["water"]}]})");
      return text;
    };
    for (const std::string crowd : {"", R"(, "crowd": true)"}) {
      const gp::Production film = gp::test::production_of(two(crowd));
      const gp::Slots slots(film, {});
      CHECK(names(film, slots.of(SceneId(0))[0].candidates) == Names{"ada", "bo", "cleo"});
      CHECK(names(film, slots.of(SceneId(1))[0].candidates) == Names{"ada", "cleo"});
      CHECK(slots.scenes_of(RoleId(0)) == std::vector<SceneId>{SceneId(0), SceneId(1)});
      // a crowd is no part
      CHECK(names(film, slots.for_part(RoleId(0))) ==
            (crowd.empty() ? Names{"ada", "cleo"} : Names{}));
      CHECK(names(film, slots.for_some_of_part(RoleId(0))) ==
            (crowd.empty() ? Names{"ada", "bo", "cleo"} : Names{}));
    }
  }

  TEST_CASE("the only one who can paint does not wear what must be painted, while a second may") {
    const auto painted = [](const std::string& bo) {
      const gp::Production film = gp::test::production_of(
          R"({"greasepaint": 1, "title": "Painted", "days": [{"date": "2027-04-17"}],
              "people": [{"id": "ada", "can": ["paint"]}, {"id": "bo")" +
          bo + R"(}, {"id": "cleo"}],
              "stations": [{"id": "chair"}, {"id": "rail"}],
              "looks": [{"id": "guard", "steps": [{"at": "rail", "minutes": 5}],
                         "off": [{"at": "chair", "minutes": 5, "by": "paint"}]}],
              "roles": [{"id": "guard", "look": "guard"}],
              "scenes": [{"id": "march", "shoot_minutes": 5, "cast": [{"role": "guard"}]}]})");
      return names(film, gp::Slots(film, {}).of(SceneId(0))[0].candidates);
    };
    CHECK(painted("") == Names{"bo", "cleo"});
    CHECK(painted(R"(, "can": ["paint"])") == Names{"ada", "bo", "cleo"});
    // who has not said yes does not count
    CHECK(painted(R"(, "can": ["paint"], "answer": "maybe")") == Names{"cleo"});
  }

  TEST_CASE("every slot of random productions holds exactly those who may [brute force]") {
    int slots_seen = 0;
    int refused = 0;
    int torn = 0;
    for (std::uint64_t i = 0; i < 250; ++i) {
      const std::uint64_t seed = gp::test::seed() + i;
      CAPTURE(seed);
      const gp::Production film = gp::test::production_of(
          gp::test::random_production(seed, gp::test::ProductionSize::small()));
      const Answers answers{i % 2 == 1, i % 3 == 1};
      const gp::Slots slots(film, answers);
      for (SceneId id : film.scenes.ids()) {
        const gp::Scene& scene = film.scenes[id];
        const auto crew = film.crew_of(id);
        const auto& list = slots.of(id);
        REQUIRE(list.size() == scene.cast.size() + crew.size());
        std::vector<bool> called(crew.size(), false);
        std::multiset<RoleId> roles;
        bool heads_begun = false;
        std::ptrdiff_t spare = 0;
        for (const Slot& slot : list) {
          ++slots_seen;
          // In the order they are best filled: parts, then what fewest could fill.
          if (slot.kind == Slot::Kind::part) {
            CHECK_FALSE(heads_begun);
          } else {
            const auto left = static_cast<std::ptrdiff_t>(slot.candidates.size()) - slot.people;
            if (heads_begun) CHECK(spare <= left);
            spare = left;
            heads_begun = true;
          }
          std::set<PersonId> expected;
          for (PersonId who : film.people.ids()) {
            bool may = false;
            if (slot.kind == Slot::Kind::crew) {
              may = may_help(film, answers, who, crew[slot.call], scene);
            } else {
              const gp::Role& role = film.roles[slot.role];
              may = may_play(film, answers, who, role, {id});
            }
            if (may) expected.insert(who);
            if (!may) ++refused;
          }
          const std::set<PersonId> found(slot.candidates.begin(), slot.candidates.end());
          CHECK(found == expected);
          CHECK(found.size() == slot.candidates.size());  // nobody twice
          if (slot.kind == Slot::Kind::crew) {
            CHECK_FALSE(called.at(slot.call));
            called.at(slot.call) = true;
            CHECK(slot.people == crew[slot.call].people);
          } else {
            roles.insert(slot.role);
            CHECK((slot.kind == Slot::Kind::crowd) == film.roles[slot.role].crowd);
          }
        }
        CHECK(std::all_of(called.begin(), called.end(), [](bool one) { return one; }));
        for (const gp::CastCall& call : scene.cast) CHECK(roles.count(call.role) == 1);
      }
      for (RoleId id : film.roles.ids()) {
        std::vector<SceneId> in;
        for (SceneId scene : film.scenes.ids()) {
          for (const gp::CastCall& call : film.scenes[scene].cast) {
            if (call.role == id) in.push_back(scene);
          }
        }
        CHECK(slots.scenes_of(id) == in);
        const gp::Role& role = film.roles[id];
        if (role.crowd) continue;
        std::set<PersonId> all, some;
        for (PersonId who : film.people.ids()) {
          if (may_play(film, answers, who, role, in)) all.insert(who);
          if (std::any_of(in.begin(), in.end(), [&](SceneId scene) {
                return may_play(film, answers, who, role, {scene});
              })) {
            some.insert(who);
          }
        }
        const auto& for_all = slots.for_part(id);
        const auto& for_some = slots.for_some_of_part(id);
        CHECK(std::set<PersonId>(for_all.begin(), for_all.end()) == all);
        CHECK(std::set<PersonId>(for_some.begin(), for_some.end()) == some);
        CHECK(for_some.size() == some.size());
        if (all != some) ++torn;
      }
    }
    CHECK(slots_seen > 1000);
    CHECK(refused > 1000);
    CHECK(torn > 20);  // parts that some may play in some of their scenes alone
  }
}
