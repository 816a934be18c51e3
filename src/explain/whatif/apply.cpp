#include "explain/whatif/apply.h"

#include "explain/whatif/friends.h"
#include "model/limits.h"
#include "model/read_production.h"
#include "time/clock.h"

#include <algorithm>
#include <numeric>
#include <set>

namespace gp::whatif {
namespace {

template <class T>
void add_once(std::vector<T>& all, const T& one) {
  if (std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);
}

int changed(int now, Amount amount) {
  return amount.relative ? now + amount.value : amount.value;
}

WallSpan widened(WallSpan span, const Hours& hours) {
  span.from.minutes = std::max(0, span.from.minutes - hours.earlier.count());
  span.until.minutes = std::min(kLatestWallTime.minutes, span.until.minutes + hours.later.count());
  return span;
}

/// `less` minutes taken off (or put on) the steps, shared out by their length: each its whole part,
/// then one minute each for the largest fractions, the first of equals first.
void share_out(std::vector<Step>& steps, std::int64_t less) {
  const std::int64_t total = std::accumulate(
      steps.begin(), steps.end(), std::int64_t{0}, [](std::int64_t sum, const Step& s) {
        return sum + s.minutes.count();
      });
  if (total == 0 || less == 0) return;
  const std::int64_t amount = std::abs(less);
  std::vector<std::int64_t> shares;
  std::int64_t given = 0;
  for (const Step& step : steps) {
    shares.push_back(amount * step.minutes.count() / total);
    given += shares.back();
  }
  std::vector<std::size_t> order(steps.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return amount * steps[a].minutes.count() % total > amount * steps[b].minutes.count() % total;
  });
  for (std::size_t i = 0; given < amount; ++i, ++given) ++shares[order[i]];
  for (std::size_t i = 0; i < steps.size(); ++i) {
    steps[i].minutes -= Minutes{static_cast<int>(less > 0 ? shares[i] : -shares[i])};
  }
}

/// Makes changes one after the other.
class Changer {
 public:
  explicit Changer(const Production& production) : result_{production, {}, {}} {
    for (const Person& person : production.people) ids_.insert(person.id);
  }

  void operator()(const Chairs& change) {
    int& places = film().stations[change.station].places;
    places = changed(places, change.amount);
  }
  void operator()(const Things& change) {
    int& count = film().items[change.item].count;
    count = changed(count, change.amount);
  }
  void operator()(const Friends& change) {
    for (int i = 0; i < change.people; ++i) add_friend(change);
  }
  void operator()(const Coming& change) {
    Person& person = film().people[change.person];
    person.answer = change.comes ? Answer::yes : Answer::no;
    if (change.comes) person.turnout.reset();
  }
  void operator()(const Learns& change) {
    add_once(film().people[change.person].can, change.skill);
  }
  void operator()(const FreeHours& change);
  void operator()(const OpenHours& change) {
    std::optional<WallSpan>& open = film().stations[change.station].open;
    if (change.hours.always) {
      open.reset();
    } else if (change.hours.hours) {
      open = change.hours.hours;
    } else if (open) {
      open = widened(*open, change.hours);
    }
  }
  void operator()(const DayTime& change) {
    for (const DayId day : film().days.ids()) {
      if (!change.day || *change.day == day) set_time(film().days[day], change);
    }
  }
  void operator()(const ChainTime& change) {
    Look& look = film().looks[change.look];
    std::vector<Step>& steps = change.part == ChainPart::on ? look.steps : look.off;
    std::int64_t less = change.less;
    if (change.per_cent) {
      const std::int64_t total = work_minutes(steps).count();
      // rounded to the nearest minute, and never nothing at all
      const std::int64_t part = std::max<std::int64_t>(1, (std::abs(less) * total + 50) / 100);
      less = less > 0 ? part : -part;
    }
    share_out(steps, less);
  }
  void operator()(const ShootTime& change) {
    film().scenes[change.scene].shoot_minutes -= change.less;
  }
  void operator()(const Drop& change) { dropped_.insert(change.scene); }
  void operator()(const AnyTime& change) {
    Scene& scene = film().scenes[change.scene];
    scene.day = DayId();
    scene.at.reset();
    scene.between.reset();
  }
  void operator()(const Heads& change) {
    for (CastCall& call : film().scenes[change.scene].cast) {
      if (call.role == change.role) call.people = changed(call.people, change.amount);
    }
  }

  Changed take() {
    drop_scenes();
    return std::move(result_);
  }

 private:
  Production& film() { return result_.production; }
  void add_friend(const Friends& change);
  static void set_time(Day& day, const DayTime& change);
  void drop_scenes();

  Changed result_;
  std::set<SceneId> dropped_;
  std::set<std::string> ids_;
};

void Changer::add_friend(const Friends& change) {
  Person person;
  for (int number = 1;; ++number) {
    const std::string behind = number == 1 ? "" : std::to_string(number);
    person.id = "one-more-friend" + (behind.empty() ? "" : "-" + behind);
    person.name = "one more friend" + (behind.empty() ? "" : " (" + behind + ")");
    if (ids_.insert(person.id).second) break;
  }
  person.can = change.skills;
  const PersonId id = film().people.add(person);
  result_.new_people.push_back(id);
  for (const StationId station : change.stations) {
    if (auto& staff = film().stations[station].staff) staff->push_back(id);
  }
  for (const RoleId role : change.roles) {
    if (auto& from = film().roles[role].from) from->push_back(id);
  }
  const auto join = [&](std::vector<CrewCall>& crew) {
    for (CrewCall& call : crew) {
      if (call.from.empty()) continue;
      if (std::find(change.jobs.begin(), change.jobs.end(), call.job) != change.jobs.end()) {
        call.from.push_back(id);
      }
    }
  };
  for (Unit& unit : film().units) join(unit.crew);
  for (Scene& scene : film().scenes) join(scene.crew);
}

void Changer::operator()(const FreeHours& change) {
  Person& person = film().people[change.person];
  const auto concerned = [&](Date date) {
    for (const DayId day : film().days.ids()) {
      if (film().days[day].date == date && (!change.day || *change.day == day)) return true;
    }
    return false;
  };
  if (!person.free) {
    if (!change.hours.hours) return;  // all day as it is
    person.free.emplace();
    for (const Day& day : film().days) person.free->push_back({day.date, std::nullopt});
  }
  std::vector<FreeTime> now;
  if (change.hours.always || change.hours.hours) {
    if (change.hours.always && !change.day) {
      person.free.reset();
      return;
    }
    for (const FreeTime& time : *person.free) {
      if (!concerned(time.date)) now.push_back(time);
    }
    for (const DayId day : film().days.ids()) {
      if (!concerned(film().days[day].date)) continue;
      now.push_back({film().days[day].date, change.hours.hours});
    }
    std::stable_sort(now.begin(), now.end(), [](const FreeTime& a, const FreeTime& b) {
      return a.date < b.date;
    });
  } else {
    for (FreeTime time : *person.free) {
      if (time.hours && concerned(time.date)) time.hours = widened(*time.hours, change.hours);
      add_once(now, time);
    }
  }
  person.free = std::move(now);
}

void Changer::set_time(Day& day, const DayTime& change) {
  const auto moved = [&](WallTime now) {
    return WallTime{std::clamp(now.minutes + change.later.count(), 0, kLatestWallTime.minutes)};
  };
  const auto set = [&](std::optional<WallTime>& time) {
    if (change.later == Minutes{0}) {
      time = change.at;
    } else if (time) {
      time = moved(*time);
    }
  };
  switch (change.moment) {
    case DayMoment::first_shot:
      return set(day.first_shot);
    case DayMoment::wrap_by:
      return set(day.wrap_by);
    case DayMoment::nobody_before: {
      std::optional<WallTime> time = day.nobody_before;
      set(time);
      day.nobody_before = time.value_or(WallTime{});
      return;
    }
  }
}

void Changer::drop_scenes() {
  Table<SceneId, Scene> kept;
  result_.scene_now = Table<SceneId, SceneId>(film().scenes.size());
  for (const SceneId old : film().scenes.ids()) {
    if (!dropped_.contains(old)) result_.scene_now[old] = kept.add(film().scenes[old]);
  }
  for (Scene& scene : kept) {
    std::vector<SceneId> after;
    for (const SceneId old : scene.after) {
      if (const SceneId now = result_.scene_now[old]; now.valid()) after.push_back(now);
    }
    scene.after = std::move(after);
  }
  film().scenes = std::move(kept);
  const std::set<std::string> likeable = film().likeable();  // whose job went with its scene
  for (Person& person : film().people) {
    std::erase_if(person.likes, [&](const std::string& like) { return !likeable.contains(like); });
  }
}

}  // namespace

std::variant<Changed, Mistake> apply(const Production& production,
                                     const std::vector<Change>& changes) {
  Changer changer(production);
  for (const Change& change : changes) std::visit(changer, change);
  Changed result = changer.take();
  auto read = read_production(write_production(result.production), PeopleListed::still_coming);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    std::string all;
    for (const Change& change : changes) {
      all += (all.empty() ? "" : "; ") +
             written(production, change).value_or(describe(production, change));
    }
    const Fault& first = faults->front();
    return Mistake{all,
                   "changes that leave a right production; this would make " +
                       (first.path.empty() ? "" : first.path + ": ") + first.found +
                       " where there must be " + first.expected,
                   {}};
  }
  return result;
}

}  // namespace gp::whatif
