#include "bench/thousand_day.h"

#include "base/random.h"

#include <algorithm>
#include <array>

#include <nlohmann/json.hpp>

namespace gp::bench {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kDate = "2027-06-19";
constexpr std::array<const char*, 4> kColours = {"blue", "red", "green", "yellow"};

std::string friend_id(int number) {
  return "friend-" + std::to_string(number);
}

Json people(int count, Random& random) {
  Json list = Json::array();
  for (int i = 1; i <= count; ++i) {
    Json row = {{"id", friend_id(i)}, {"name", "friend " + std::to_string(i)}};
    if (i <= count / 20) {
      row["can"] = {"paint"};
    } else if (i % 10 == 3) {
      row["can"] = {"dance"};
    } else if (i % 50 == 7) {
      row["can"] = {"camera"};
    }
    // one in seven has only half the day
    const std::uint32_t half = i <= count / 20 ? 6 : random.below(14);
    if (half == 0) row["free"] = {std::string(kDate) + " 07:00-14:30"};
    if (half == 1) row["free"] = {std::string(kDate) + " 11:30-20:00"};
    if (i > count / 20 && random.chance(1, 10)) row["no"] = {"face-paint"};
    list.push_back(std::move(row));
  }
  return list;
}

Json roles(int count) {
  Json list = Json::array();
  for (const char* colour : kColours) {
    list.push_back({{"id", colour}, {"crowd", true}, {"look", colour}});
  }
  list.push_back({{"id", "passer-by"}, {"crowd", true}});
  list.push_back({{"id", "dancer"}, {"crowd", true}, {"needs", {"dance"}}, {"look", "any"}});
  for (int i = 0; i < 6; ++i) {
    // parts are fixed to people who neither paint nor film
    list.push_back({{"id", "part-" + std::to_string(i)},
                    {"person", friend_id(count / 20 + 5 + 10 * i)},
                    {"look", "finery"}});
  }
  return list;
}

Json looks() {
  Json list = Json::array();
  for (const char* colour : kColours) {
    list.push_back({{"id", colour},
                    {"tags", {"face-paint"}},
                    {"steps",
                     {{{"at", "rail"}, {"minutes", 2}},
                      {{"at", "paint"}, {"minutes", 6}, {"by", "paint"}, {"then_wait", 4}}}},
                    {"off", {{{"at", "sinks"}, {"minutes", 5}}}},
                    {"items", {std::string(colour) + "-scarf"}}});
  }
  list.push_back({{"id", "finery"},
                  {"steps", {{{"at", "rail"}, {"minutes", 15}}}},
                  {"off", {{{"at", "rail"}, {"minutes", 5}}}}});
  return list;
}

Json scenes(int count) {
  const auto part_of = [count](int thousandths) { return count * thousandths / 1000; };
  struct Written {
    int minutes;
    int colour;       ///< index into kColours; -1: none
    int other;        ///< a second colour; -1: none
    int thousandths;  ///< of the people, in each colour
    int passers;      ///< of the people, thousandths
    int part;         ///< -1: none
    const char* place;
  };
  // a crowd of one colour, two that meet, one that passes by: what a day of a big crowd is made of
  constexpr std::array<Written, 12> kWritten = {{{30, 0, -1, 160, 0, 0, "field"},
                                                 {20, 0, 1, 110, 0, 1, "field"},
                                                 {25, -1, -1, 0, 150, 2, "street"},
                                                 {30, 1, -1, 150, 0, 1, "field"},
                                                 {20, 2, -1, 140, 60, 3, "street"},
                                                 {25, 2, 3, 100, 0, -1, "field"},
                                                 {15, 3, -1, 150, 0, 4, "field"},
                                                 {30, 0, 3, 90, 0, 0, "street"},
                                                 {20, -1, -1, 0, 200, 5, "street"},
                                                 {15, 1, 2, 100, 0, 2, "field"},
                                                 {20, 3, -1, 120, 80, -1, "field"},
                                                 {20, -1, -1, 0, 120, 3, "field"}}};
  Json list = Json::array();
  int number = 0;
  for (const Written& written : kWritten) {
    Json cast = Json::array();
    for (const int colour : {written.colour, written.other}) {
      if (colour < 0) continue;
      cast.push_back({{"role", kColours[static_cast<std::size_t>(colour)]},
                      {"people", part_of(written.thousandths)}});
    }
    if (written.passers > 0) {
      cast.push_back({{"role", "passer-by"}, {"people", part_of(written.passers)}});
    }
    if (written.part >= 0) cast.push_back({{"role", "part-" + std::to_string(written.part)}});
    if (number % 4 == 2) cast.push_back({{"role", "dancer"}, {"people", part_of(20)}});
    list.push_back({{"id", "scene-" + std::to_string(++number)},
                    {"place", written.place},
                    {"set_minutes", 10},
                    {"shoot_minutes", written.minutes},
                    {"cast", std::move(cast)}});
  }
  return list;
}

}  // namespace

std::string thousand_day(int count, std::uint64_t seed) {
  Random random(seed);
  Json out = {
      {"greasepaint", 1}, {"title", "The Thousand"}, {"sign_in_minutes", 10}, {"round_to", 10}};
  out["days"] = {{{"date", kDate},
                  {"base", "hall"},
                  {"nobody_before", "06:00"},
                  {"first_shot", "09:30"},
                  {"wrap_by", "20:00"},
                  {"meals",
                   {{{"name", "lunch"},
                     {"minutes", 30},
                     {"between", "11:30-14:30"},
                     {"together", false},
                     {"seats", count * 3 / 10}}}}}};
  out["places"] = {{{"id", "hall"}, {"minutes_to", {{"field", 6}, {"street", 4}}}},
                   {{"id", "field"}, {"minutes_to", {{"street", 5}}}},
                   {{"id", "street"}}};
  out["people"] = people(count, random);
  out["roles"] = roles(count);
  out["looks"] = looks();
  Json painters = Json::array();
  for (int i = 1; i <= count / 20; ++i) painters.push_back(friend_id(i));
  out["stations"] = {{{"id", "rail"}, {"places", std::max(1, count * 3 / 100)}},
                     {{"id", "paint"},
                      {"places", std::max(1, count / 25)},
                      {"staff", std::move(painters)},
                      {"set_minutes", 10}},
                     {{"id", "sinks"}, {"places", std::max(1, count * 3 / 100)}}};
  for (const char* colour : kColours) {
    out["items"].push_back({{"id", std::string(colour) + "-scarf"}, {"count", count * 2 / 10}});
  }
  out["units"] = {{{"id", "main"},
                   {"crew",
                    {{{"job", "camera"}, {"people", 2}, {"needs", {"camera"}}},
                     {{"job", "marshals"}, {"people", 8}}}}}};
  out["scenes"] = scenes(count);
  return out.dump();
}

}  // namespace gp::bench
