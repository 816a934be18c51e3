#include "prep/timeline.h"

#include "base/random.h"
#include "support/builder.h"
#include "support/seed.h"

#include <algorithm>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using gp::Minute;
using gp::minute;
using gp::Minutes;
using gp::PlaceId;
using gp::Span;
using gp::test::at;

namespace {

/// A day of three places and nobody in particular.
struct OneDay {
  explicit OneDay(const std::string& text)
      : film(gp::test::production_of(text)), frame(film, gp::DayId(0), {}), ground(film, frame) {}
  OneDay(const OneDay&) = delete;
  OneDay& operator=(const OneDay&) = delete;

  gp::Production film;
  gp::DayFrame frame;
  gp::Ground ground;
};

std::string day_text(const std::string& zone,
                     const std::string& date,
                     const std::string& base,
                     int sign_in,
                     int round_to,
                     int beach,
                     int attic) {
  return R"({"greasepaint": 1, "title": "Ways", "zone": ")" + zone + R"(", "sign_in_minutes": )" +
         std::to_string(sign_in) + R"(, "round_to": )" + std::to_string(round_to) +
         R"(, "days": [{"date": ")" + date + R"(")" + base + R"(}],
    "places": [{"id": "hall"}, {"id": "beach", "minutes_to": {"hall": )" +
         std::to_string(beach) + R"(}}, {"id": "attic", "minutes_to": {"hall": 2, "beach": )" +
         std::to_string(attic) + R"(}}]})";
}

/// The rules of one person's time (the plan format's rules 3, 4 and 11), read slowly: may this
/// engagement stand among the others?
class Oracle {
 public:
  Oracle(const gp::Ground& ground, const gp::PersonDay& day, const std::vector<Span>& free)
      : ground_(ground), day_(day), free_(free) {}

  [[nodiscard]] bool fits_in(std::size_t window, const gp::Engagement& added) const {
    const gp::DayFrame& frame = *ground_.frame;
    const Span when = added.when;
    if (!frame.nameable(when.from) || !frame.nameable(when.until)) return false;
    if (when.until > gp::kDayEnd || when.until > free_[window].until) return false;
    for (const auto& meal : ground_.together) {
      if (meal && meal->overlaps(when)) return false;
    }
    std::vector<gp::Engagement> rows = day_.engagements;
    for (const gp::Engagement& row : rows) {
      if (row.when.overlaps(when)) return false;
    }
    const auto earlier = [](const gp::Engagement& a, const gp::Engagement& b) {
      return a.when.from != b.when.from ? a.when.from < b.when.from : a.when.until < b.when.until;
    };
    rows.insert(std::upper_bound(rows.begin(), rows.end(), added, earlier), added);
    if (!ways_hold(rows)) return false;
    const auto call = frame.call_for(rows.front().when.from, ground_.lead(rows.front().place));
    return call && *call >= free_[window].from;
  }

  [[nodiscard]] bool fits(const gp::Engagement& added) const {
    if (!day_.engagements.empty()) return fits_in(static_cast<std::size_t>(day_.window), added);
    for (std::size_t w = 0; w < free_.size(); ++w) {
      if (fits_in(w, added)) return true;
    }
    return false;
  }

 private:
  [[nodiscard]] bool ways_hold(const std::vector<gp::Engagement>& rows) const {
    const gp::Engagement* left = nullptr;
    Minutes nowhere{0};
    for (const gp::Engagement& row : rows) {
      if (!row.place.valid()) {
        nowhere += row.when.length();
        continue;
      }
      if (left != nullptr && left->place != row.place) {
        const Span gap{left->when.until, row.when.from};
        Minutes walked = gap.length() - nowhere;
        for (const auto& meal : ground_.together) {
          if (meal && gap.covers(*meal)) walked -= meal->length();
        }
        if (walked < ground_.production->way(left->place, row.place)) return false;
      }
      left = &row;
      nowhere = Minutes{0};
    }
    return true;
  }

  const gp::Ground& ground_;
  const gp::PersonDay& day_;
  const std::vector<Span>& free_;
};

struct Somewhen {
  const char* zone;
  const char* date;
};
// Clocks go back at 02:00 in London (1 h) and New York (1 h) and on Lord Howe (1/2 h); forward in
// London at 01:00 and in New York at 02:00; a plain day (zone database 2025b).
constexpr Somewhen kSomewhen[] = {{"Europe/London", "2027-10-31"},
                                  {"America/New_York", "2027-11-07"},
                                  {"Australia/Lord_Howe", "2027-04-04"},
                                  {"Europe/London", "2027-03-28"},
                                  {"America/New_York", "2027-03-14"},
                                  {"UTC", "2027-04-17"}};

constexpr std::int32_t kLongest = 380;  // of the days tried, in minutes

Span random_span(gp::Random& random, std::int32_t least, std::int32_t most) {
  const std::int32_t from = random.between(0, kLongest - most);
  return {minute(from), minute(from + random.between(least, most))};
}

std::vector<Span> random_windows(gp::Random& random) {
  std::vector<Span> free;
  std::int32_t from = random.between(0, 60);
  const int windows = random.between(1, 3);
  for (int i = 0; i < windows && from < kLongest; ++i) {
    const std::int32_t until = std::min(kLongest, from + random.between(30, 300));
    free.push_back({minute(from), minute(until)});
    from = until + random.between(1, 40);
  }
  return free;
}

}  // namespace

TEST_SUITE("prep/timeline") {
  TEST_CASE("the latest and the earliest start are those of trying every minute [brute force]") {
    gp::Random random(gp::test::seed());
    int asked = 0;
    int found = 0;
    int full_days = 0;
    for (int round = 0; round < 420; ++round) {
      const Somewhen& when = kSomewhen[random.index(std::size(kSomewhen))];
      const bool has_base = random.chance(2, 3);
      const int round_to = std::vector<int>{1, 5, 10, 15}[random.index(4)];
      const OneDay one(day_text(when.zone,
                                when.date,
                                has_base ? R"(, "base": "hall")" : "",
                                random.between(0, 10),
                                round_to,
                                random.between(0, 12),
                                random.between(1, 15)));
      gp::Ground ground = one.ground;
      // Together meals: what DayDraft::begin() would allow, none upon another.
      for (int m = random.between(0, 2); m > 0; --m) {
        const Span meal = random_span(random, 10, 40);
        if (ground.meal_in(meal) == nullptr) ground.together.emplace_back(meal);
      }
      const std::vector<Span> free = random_windows(random);
      gp::PersonDay day;
      const Oracle oracle(ground, day, free);
      const auto somewhere = [&] {
        // Something is at no place only where the day has no base.
        const std::size_t which = random.index(has_base ? 3 : 4);
        return which == 3 ? PlaceId() : PlaceId(which);
      };
      for (int tries = 0; tries < 40 && day.engagements.size() < 7; ++tries) {
        const gp::Engagement added{
            random_span(random, random.chance(1, 8) ? 0 : 5, 40), somewhere(), gp::Doing::cast, 0};
        if (!oracle.fits(added)) continue;
        if (day.engagements.empty()) {
          for (std::size_t w = 0; w < free.size(); ++w) {
            if (oracle.fits_in(w, added)) day.window = static_cast<int>(w);
          }
        }
        auto& rows = day.engagements;
        rows.insert(std::upper_bound(rows.begin(),
                                     rows.end(),
                                     added,
                                     [](const auto& a, const auto& b) {
                                       return a.when.from != b.when.from
                                                  ? a.when.from < b.when.from
                                                  : a.when.until < b.when.until;
                                     }),
                    added);
      }
      if (day.engagements.size() >= 4) ++full_days;
      for (int question = 0; question < 12; ++question) {
        const Minutes length{random.chance(1, 10) ? 0 : random.between(1, 45)};
        const PlaceId place = somewhere();
        const Minute not_before = minute(random.between(-5, 200));
        const Minute not_after =
            random.chance(1, 6) ? gp::kNever : minute(random.between(100, 420));
        std::optional<Minute> latest;
        std::optional<Minute> earliest;
        for (Minute start = not_before;
             start + length <= std::min(not_after, minute(kLongest + 60));
             start += Minutes{1}) {
          if (!oracle.fits({{start, start + length}, place, gp::Doing::cast, 0})) continue;
          if (!earliest) earliest = start;
          latest = start;
        }
        CAPTURE(round);
        CAPTURE(question);
        std::uint64_t work = 0;
        CHECK(gp::latest_start(ground, day, free, length, place, not_before, not_after, work) ==
              latest);
        CHECK(gp::earliest_start(ground, day, free, length, place, not_before, not_after, work) ==
              earliest);
        CHECK((work > 0 || !latest));
        ++asked;
        if (latest) ++found;
      }
    }
    // The questions are worth asking: many have an answer, many have none, many days are full.
    CHECK(asked == 420 * 12);
    CHECK(found > asked / 5);
    CHECK(found < asked * 9 / 10);
    CHECK(full_days > 60);
  }

  TEST_CASE("ways are counted without the meals and without what is nowhere") {
    OneDay one(day_text("UTC", "2027-04-17", R"(, "base": "hall")", 5, 5, 6, 9));
    const PlaceId hall(0);
    const PlaceId beach(1);
    gp::Ground& ground = one.ground;
    ground.together = {Span{at("12:00"), at("12:30")}};
    CHECK(ground.lead(beach) == Minutes{11});  // 5 to sign in, 6 to walk
    CHECK(ground.lead(hall) == Minutes{5});
    CHECK(ground.eaten(at("11:50"), at("12:10")) == Minutes{10});
    CHECK(ground.eaten(at("11:00"), at("13:00")) == Minutes{30});
    CHECK(ground.eaten(at("12:30"), at("13:00")) == Minutes{0});
    CHECK(ground.meal_in({at("11:00"), at("12:00")}) == nullptr);
    CHECK(ground.meal_in({at("11:00"), at("12:01")}) != nullptr);

    gp::PersonDay day;
    day.engagements = {{{at("11:50"), at("11:57")}, hall, gp::Doing::cast, 0},
                       {{at("13:00"), at("13:30")}, beach, gp::Doing::cast, 1}};
    // 63 minutes between, 30 of them lunch, 6 the way: 27 to spare.
    CHECK(gp::spare_between(ground, day, 0) == Minutes{27});
    day.meals = {{1, {at("12:31"), at("12:46")}}};  // a meal in turns takes 15 more
    CHECK(gp::spare_between(ground, day, 0) == Minutes{12});
    day.meals.clear();
    const std::vector<Span> free = {{at("08:00"), at("20:00")}};
    std::uint64_t work = 0;
    // On the beach before 13:00 there is no way to walk after; after 11:57 the hall is 6 away, of
    // which 3 can be walked before lunch and 3 after it.
    CHECK(gp::latest_start(ground, day, free, Minutes{20}, beach, at("11:57"), at("13:00"), work) ==
          at("12:40"));
    CHECK(
        gp::earliest_start(ground, day, free, Minutes{20}, beach, at("11:57"), at("13:00"), work) ==
        at("12:33"));
    // In the hall it must be over by 12:54.
    CHECK(gp::latest_start(ground, day, free, Minutes{20}, hall, at("11:57"), at("13:00"), work) ==
          at("12:34"));
  }

  TEST_CASE("a stay: the call is the latest round one that leaves sign-in and the way") {
    OneDay one(day_text("UTC", "2027-04-17", R"(, "base": "hall")", 5, 5, 6, 9));
    gp::PersonDay day;
    day.engagements = {{{at("09:33"), at("10:00")}, PlaceId(1), gp::Doing::cast, 0},
                       {{at("10:30"), at("11:00")}, PlaceId(0), gp::Doing::crew, 1}};
    // 09:33 less 5 and 6 is 09:22, down to a multiple of five: 09:20.
    const auto times = gp::stay_of(one.ground, day);
    REQUIRE(times);
    CHECK(times->stay == Span{at("09:20"), at("11:00")});
    CHECK(times->together.empty());
  }

  TEST_CASE("a stay: a meal that the stay covers brings the call forward, and that another meal") {
    OneDay one(day_text("UTC", "2027-04-17", R"(, "base": "hall")", 10, 5, 6, 9));
    gp::PersonDay day;
    day.engagements = {{{at("12:40"), at("13:00")}, PlaceId(1), gp::Doing::cast, 0}};
    // Reached from the door in 16 minutes: called at 12:20 (12:24 rounded down).
    CHECK(gp::stay_of(one.ground, day)->stay == Span{at("12:20"), at("13:00")});
    // A meal from 12:20 to 12:40 is covered: it is the first engagement now, and the way from the
    // door to where work begins still lies before it: 12:20 - 16 = 12:04, so 12:00.
    one.ground.together = {Span{at("12:20"), at("12:40")}};
    auto times = gp::stay_of(one.ground, day);
    REQUIRE(times);
    CHECK(times->stay == Span{at("12:00"), at("13:00")});
    CHECK(times->together == std::vector<std::size_t>{0});
    // One that begins at 12:19 is not covered by 12:20: nothing to eat, nothing brought forward.
    one.ground.together = {Span{at("12:19"), at("12:39")}};
    CHECK(gp::stay_of(one.ground, day)->stay == Span{at("12:20"), at("13:00")});
    // The first meal brings the second within the stay: 12:00 is called for the 12:20 one, and a
    // tea from 12:00 to 12:10 is covered then: 12:00 - 16 = 11:44, so 11:40.
    one.ground.together = {Span{at("12:00"), at("12:10")}, Span{at("12:20"), at("12:40")}};
    times = gp::stay_of(one.ground, day);
    REQUIRE(times);
    CHECK(times->stay == Span{at("11:40"), at("13:00")});
    CHECK(times->together.size() == 2);
    // A meal of one's own after the last scene keeps a person there until it is eaten.
    one.ground.together.clear();
    day.meals = {{0, {at("13:05"), at("13:25")}}};
    CHECK(gp::stay_of(one.ground, day)->stay == Span{at("12:20"), at("13:25")});
  }

  TEST_CASE("calls in an hour that comes twice are named by its first pass or not at all") {
    // London, 31 October 2027: at 02:00 the clock goes back to 01:00 (zone database). Elapsed
    // minutes 60-120 are the first pass of 01:00-02:00, 120-180 the second, which has no reading of
    // its own; 180 is 02:00.
    const OneDay one(day_text("Europe/London", "2027-10-31", R"(, "base": "hall")", 5, 15, 6, 9));
    const auto call = [&](int first, int lead) {
      return one.frame.call_for(minute(first), Minutes{lead});
    };
    CHECK(call(119, 5) == minute(105));   // 01:59 less 5 is 01:54, so 01:45 of the first pass
    CHECK(call(125, 5) == std::nullopt);  // 120 and later: in the second pass
    CHECK(call(184, 5) == std::nullopt);  // 179 is the second 01:59
    CHECK(call(185, 5) == minute(180));   // 02:00
    CHECK(call(199, 5) == minute(180));   // 02:14 is rounded down to 02:00
    CHECK(call(200, 5) == minute(195));   // 02:15

    gp::PersonDay day;
    day.engagements = {{{minute(184), minute(200)}, PlaceId(0), gp::Doing::cast, 0}};
    CHECK_FALSE(gp::stay_of(one.ground, day).has_value());
    day.engagements[0].when.from = minute(185);
    CHECK(gp::stay_of(one.ground, day)->stay == Span{minute(180), minute(200)});
    // Backwards from 184: down to 180 the call would fall into the second pass, below it the start,
    // and below 120 the end, until that is 119.
    std::uint64_t work = 0;
    const gp::PersonDay nobody;
    const std::vector<Span> free = {{minute(0), minute(600)}};
    CHECK(gp::latest_start(
              one.ground, nobody, free, Minutes{10}, PlaceId(0), minute(0), minute(194), work) ==
          minute(109));
  }
}
