#include "bench/made_up_casting.h"

#include "base/json_writer.h"
#include "base/random.h"
#include "bench/sections.h"

#include <string>
#include <vector>

namespace gp::bench {
namespace {

const std::vector<std::string> kCrowds = {"guards", "market", "pilgrims", "sailors"};
const std::vector<std::string> kJobs = {"camera", "lamps"};

class CastingMaker {
 public:
  CastingMaker(const CastingSize& size, std::uint64_t seed, bool friends)
      : size_(size), random_(seed), friends_(friends) {}

  std::string text() {
    out_.begin_object();
    out_.key("greasepaint").number(std::int64_t{1});
    out_.key("title").text("Casting of " + std::to_string(size_.people));
    out_.key("days").begin_list();
    for (const char* date : {"2027-05-01", "2027-05-02"}) {
      out_.begin_object(JsonLayout::compact);
      out_.key("date").text(date);
      out_.key("first_shot").text("09:00");
      out_.key("wrap_by").text("18:00");
      out_.end_object();
    }
    out_.end_list();
    people();
    roles();
    looks();
    scenes();
    out_.end_object();
    return out_.finish();
  }

 private:
  void people() {
    out_.key("people").begin_list();
    for (int p = 0; p < size_.people; ++p) {
      out_.begin_object(JsonLayout::compact);
      out_.key("id").text(person(p));
      out_.key("free").begin_list();
      const int days = random_.between(1, 3);  // the first, the second or both
      for (int day = 1; day <= 2; ++day) {
        if ((days & day) == 0) continue;
        const int from = random_.between(8, 11);
        const int until = random_.between(15, 19);
        out_.text("2027-05-0" + std::to_string(day) + (from < 10 ? " 0" : " ") +
                  std::to_string(from) + ":00-" + std::to_string(until) + ":00");
      }
      out_.end_list();
      std::vector<std::string> can;
      if (random_.chance(1, 2)) can.emplace_back("dance");
      if (random_.chance(1, 3)) can.emplace_back("lamps");
      out_.key("can").texts(can);
      if (random_.chance(1, 5)) out_.key("no").texts({"wet"});
      std::vector<std::string> likes;
      if (random_.chance(1, 2)) likes.push_back(kCrowds[random_.index(kCrowds.size())]);
      if (random_.chance(1, 4)) likes.push_back(kJobs[random_.index(kJobs.size())]);
      if (random_.chance(1, 4)) likes.push_back(part(random_.between(0, size_.parts - 1)));
      const int friend_of = random_.between(0, size_.people - 1);
      const bool has_friend = random_.chance(1, 3);
      if (friends_ && has_friend && friend_of != p) likes.push_back(person(friend_of));
      out_.key("likes").texts(likes);
      if (random_.chance(3, 4)) {
        out_.key("sizes").begin_object();
        out_.key("head_cm").number(std::int64_t{random_.between(52, 61)});
        out_.end_object();
      }
      out_.end_object();
    }
    out_.end_list();
  }

  void roles() {
    out_.key("roles").begin_list();
    for (int r = 0; r < size_.parts; ++r) {
      out_.begin_object(JsonLayout::compact);
      out_.key("id").text(part(r));
      if (random_.chance(1, 3)) out_.key("needs").texts({"dance"});
      if (random_.chance(1, 3)) out_.key("tags").texts({"wet"});
      out_.end_object();
    }
    for (std::size_t c = 0; c < kCrowds.size(); ++c) {
      out_.begin_object(JsonLayout::compact);
      out_.key("id").text(kCrowds[c]);
      out_.key("crowd").boolean(true);
      if (c < 2) out_.key("look").text(c == 0 ? "iron" : "straw");
      out_.end_object();
    }
    out_.end_list();
  }

  void looks() {
    out_.key("looks").begin_list();
    for (const char* look : {"iron", "straw"}) {
      out_.begin_object(JsonLayout::compact);
      out_.key("id").text(look);
      out_.key("items").texts({std::string(look) + "-hat"});
      out_.end_object();
    }
    out_.end_list();
    out_.key("items").begin_list();
    for (const char* look : {"iron", "straw"}) {
      out_.begin_object(JsonLayout::compact);
      out_.key("id").text(std::string(look) + "-hat");
      out_.key("count").number(std::int64_t{size_.people});
      out_.key("fits").begin_object();
      out_.key("head_cm").text(std::string(look) == "iron" ? "54-59" : "52-57");
      out_.end_object();
      out_.end_object();
    }
    out_.end_list();
  }

  void scenes() {
    out_.key("scenes").begin_list();
    for (int s = 0; s < size_.scenes; ++s) {
      out_.begin_object(JsonLayout::compact);
      out_.key("id").text("scene-" + std::to_string(s + 1));
      out_.key("shoot_minutes").number(std::int64_t{20});
      out_.key("cast").begin_list();
      for (int r = 0; r < size_.parts; ++r) {
        if (random_.between(1, size_.parts) <= 2) call(part(r), 1);  // two parts a scene, about
      }
      const std::size_t first = random_.index(kCrowds.size());
      const int crew = 2;
      const int half = std::max(1, (size_.heads - crew) / 2);
      call(kCrowds[first], half);
      call(kCrowds[(first + 1) % kCrowds.size()], half);
      out_.end_list();
      out_.key("crew").begin_list();
      for (const std::string& job : kJobs) {
        out_.begin_object();
        out_.key("job").text(job);
        out_.end_object();
      }
      out_.end_list();
      out_.end_object();
    }
    out_.end_list();
  }

  void call(const std::string& role, int people) {
    out_.begin_object();
    out_.key("role").text(role);
    if (people != 1) out_.key("people").number(std::int64_t{people});
    out_.end_object();
  }
  static std::string person(int number) { return "person-" + std::to_string(number + 1); }
  static std::string part(int number) { return "part-" + std::to_string(number + 1); }

  CastingSize size_;
  Random random_;
  bool friends_;
  JsonWriter out_;
};

}  // namespace

Production made_up_casting(const CastingSize& size, std::uint64_t seed, bool friends) {
  return production_of_text(CastingMaker(size, seed, friends).text());
}

}  // namespace gp::bench
