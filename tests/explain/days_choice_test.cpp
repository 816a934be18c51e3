#include "explain/days/choose_days.h"
#include "model/check.h"
#include "support/builder.h"

#include <string>

#include <doctest/doctest.h>

using gp::DayId;
using gp::DaysChosen;
using gp::OnDay;
using gp::SceneId;

namespace {

/// Three days; ana and bo have a scene each, cleo two. Who is free when makes the difference.
gp::Production film(const std::string& ana, const std::string& bo, const std::string& cleo) {
  return gp::test::production_of(
      R"({"greasepaint": 1, "title": "T", "days": [
           {"date": "2027-04-17", "first_shot": "10:00", "wrap_by": "12:00"},
           {"date": "2027-04-18", "first_shot": "10:00", "wrap_by": "12:00"},
           {"date": "2027-04-24", "first_shot": "10:00", "wrap_by": "12:00"}],
          "people": [{"id": "ana", "free": [)" +
      ana + R"(]}, {"id": "bo", "free": [)" + bo + R"(]}, {"id": "cleo", "free": [)" + cleo +
      R"(]}],
          "roles": [{"id": "a", "person": "ana"}, {"id": "b", "person": "bo"}, {"id": "c", "person": "cleo"}],
          "scenes": [{"id": "one", "shoot_minutes": 20, "cast": [{"role": "a"}, {"role": "c"}]},
                     {"id": "two", "shoot_minutes": 20, "cast": [{"role": "b"}]},
                     {"id": "three", "shoot_minutes": 20, "cast": [{"role": "c"}]}]})");
}

DaysChosen chosen(const gp::Production& production) {
  gp::Stop stop;
  gp::DaysWishes wishes;
  wishes.planning.effort = 0.05;
  const DaysChosen result = gp::choose_days(production, wishes, stop);
  for (const gp::DaysChoice& choice : result.choices) {
    CHECK(gp::check(production, choice.plan).empty());
  }
  return result;
}

}  // namespace

TEST_SUITE("explain/days_choice") {
  TEST_CASE("one day on which everybody can come is best, and nobody comes twice") {
    const std::string all = R"("2027-04-17", "2027-04-18", "2027-04-24")";
    const auto production = film(R"("2027-04-24")", all, all);
    const DaysChosen it = chosen(production);
    REQUIRE(it.alone.size() == 3);
    CHECK(it.alone[0].scenes[SceneId(0)] == OnDay::tried);
    CHECK(it.alone[0].scenes[SceneId(1)] == OnDay::filmed);
    CHECK(it.alone[2].scenes[SceneId(0)] == OnDay::filmed);
    REQUIRE(!it.choices.empty());
    CHECK(it.choices[0].days == std::vector<DayId>{DayId(2)});
    CHECK(it.choices[0].twice == 0);
  }

  TEST_CASE(
      "two days: scenes go where those come who must come anyway, so that nobody comes twice") {
    // ana only on the 17th, bo only on the 18th, cleo on both: cleo's two scenes both fall on the
    // 17th, where ana needs her
    const auto production =
        film(R"("2027-04-17")", R"("2027-04-18")", R"("2027-04-17", "2027-04-18", "2027-04-24")");
    const DaysChosen it = chosen(production);
    REQUIRE(!it.choices.empty());
    CHECK(it.choices[0].days == std::vector<DayId>{DayId(0), DayId(1)});
    CHECK(it.choices[0].price.not_filmed == 0);
    CHECK(it.choices[0].twice == 0);
    CHECK(it.choices[0].people == 3);
  }

  TEST_CASE("days that are as good are shown as such") {
    const std::string both = R"("2027-04-17", "2027-04-18")";
    const auto production = film(both, both, both);
    const DaysChosen it = chosen(production);
    REQUIRE(it.choices.size() >= 2);
    CHECK(it.choices[0].days == std::vector<DayId>{DayId(0)});
    CHECK(it.choices[1].days == std::vector<DayId>{DayId(1)});
    CHECK(gp::distance_of(it.choices[0], it.choices[1]) == 0);
    CHECK(gp::days_as_text(production, it).find("as good: 2027-04-18") != std::string::npos);
  }

  TEST_CASE("nobody can come: it is said") {
    const auto production = film("", "", "");
    const DaysChosen it = chosen(production);
    CHECK(it.choices.empty());
    CHECK(gp::days_as_text(production, it).find("Nothing can be filmed") != std::string::npos);
  }
}
