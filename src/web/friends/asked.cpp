#include "web/friends/asked.h"

#include "text/dates.h"
#include "time/clock.h"

#include <algorithm>
#include <map>
#include <set>

namespace gp {
namespace {

constexpr std::int32_t kHalfHour = 30;
constexpr std::size_t kMostChoices = 60;  ///< of one kind: more, nobody reads on a phone
constexpr std::size_t kMostTagBytes = 64;

bool contains(const std::vector<std::string>& list, std::string_view text) {
  return std::find(list.begin(), list.end(), text) != list.end();
}

/// For what a tag is needed: a few names, each once, in the order of the production.
class UsedFor {
 public:
  void add(const std::string& tag, const std::string& name) {
    if (tag.empty()) return;
    auto [entry, added] = names_.try_emplace(tag);
    if (added) order_.push_back(tag);
    if (!name.empty() && !contains(entry->second, name)) entry->second.push_back(name);
  }
  [[nodiscard]] const std::vector<std::string>& tags() const { return order_; }
  [[nodiscard]] std::string names(const std::string& tag) const {
    constexpr std::size_t kMost = 3;
    std::string text;
    const std::vector<std::string>& all = names_.at(tag);
    for (std::size_t i = 0; i < all.size() && i < kMost; ++i) {
      if (!text.empty()) text += ", ";
      text += all[i];
    }
    return all.size() > kMost ? text + " …" : text;
  }

 private:
  std::map<std::string, std::vector<std::string>> names_;
  std::vector<std::string> order_;
};

std::vector<CrewCall> all_crew(const Production& production) {
  std::vector<CrewCall> all;
  for (const Unit& unit : production.units) {
    all.insert(all.end(), unit.crew.begin(), unit.crew.end());
  }
  for (const Scene& scene : production.scenes) {
    all.insert(all.end(), scene.crew.begin(), scene.crew.end());
  }
  return all;
}

std::string skill_words(const std::string& tag, const SayFriends& say) {
  return contains(worded_skills(), tag) ? say("skill." + tag, {}) : readable(tag);
}

std::string skills_words(const Tags& tags, const SayFriends& say) {
  std::string text;
  for (const std::string& tag : tags) {
    if (!text.empty()) text += ", ";
    text += skill_words(tag, say);
  }
  return text;
}

void add_parts(Asked& asked, const Production& production, const SayFriends& say) {
  for (const bool crowds : {true, false}) {
    for (const Role& role : production.roles) {
      if (role.crowd != crowds || role.person.valid() || role.from.has_value()) continue;
      if (asked.parts.size() == kMostChoices) return;
      AskedChoice choice{role.id, role.shown(), ""};
      if (!role.needs.empty()) {
        choice.hint = say("like.needs", {{"skills", skills_words(role.needs, say)}});
      } else if (role.crowd) {
        choice.hint = say("like.crowd", {});
      }
      asked.parts.push_back(std::move(choice));
    }
  }
}

void add_jobs(Asked& asked, const std::vector<CrewCall>& crew, const SayFriends& say) {
  std::set<std::string> known;
  for (const CrewCall& call : crew) {
    if (!call.from.empty() || call.job.empty() || call.job.size() > kMostTagBytes) continue;
    if (asked.jobs.size() == kMostChoices || !known.insert(call.job).second) continue;
    AskedChoice choice{call.job, readable(call.job), ""};
    if (!call.needs.empty()) {
      choice.hint = say("like.needs", {{"skills", skills_words(call.needs, say)}});
    }
    asked.jobs.push_back(std::move(choice));
  }
}

void add_skills(Asked& asked,
                const Production& production,
                const std::vector<CrewCall>& crew,
                const SayFriends& say) {
  UsedFor used;
  for (const Look& look : production.looks) {
    for (const auto* steps : {&look.steps, &look.off}) {
      for (const Step& step : *steps) used.add(step.by, production.stations[step.at].shown());
    }
  }
  for (const CrewCall& call : crew) {
    for (const std::string& tag : call.needs) used.add(tag, readable(call.job));
  }
  for (const Role& role : production.roles) {
    for (const std::string& tag : role.needs) used.add(tag, role.shown());
  }
  for (const std::string& tag : used.tags()) {
    if (asked.can.size() == kMostChoices) break;
    AskedChoice choice{tag, skill_words(tag, say), ""};
    const std::string names = used.names(tag);
    if (!names.empty()) choice.hint = say("can.for", {{"what", names}});
    asked.can.push_back(std::move(choice));
  }
}

void add_refusals(Asked& asked, const Production& production, const SayFriends& say) {
  UsedFor used;
  for (const Look& look : production.looks) {
    for (const std::string& tag : look.tags) used.add(tag, look.shown());
  }
  for (const Role& role : production.roles) {
    for (const std::string& tag : role.tags) used.add(tag, role.shown());
  }
  for (const Scene& scene : production.scenes) {
    for (const std::string& tag : scene.hazards) used.add(tag, scene.shown());
  }
  for (const std::string& tag : used.tags()) {
    if (asked.no.size() < kMostChoices) {
      AskedChoice choice{tag, readable(tag), ""};
      if (contains(worded_refusals(), tag)) {
        choice.label = say("no." + tag + ".name", {});
        choice.hint = say("no." + tag + ".hint", {});
      } else if (const std::string names = used.names(tag); !names.empty()) {
        choice.hint = say("no.in", {{"what", names}});
      }
      asked.no.push_back(std::move(choice));
    }
    asked.paint = asked.paint || tag == "face-paint" || tag == "body-paint";
    asked.glitter = asked.glitter || tag == "glitter";
    asked.latex = asked.latex || tag == "latex";
    asked.fog = asked.fog || tag == "fog" || tag == "smoke" || tag == "haze";
    asked.animals = asked.animals || tag == "animals";
  }
  for (const Look& look : production.looks) {
    for (const Step& step : look.steps) asked.paint = asked.paint || step.by == "paint";
  }
  asked.skin = asked.paint || asked.glitter || asked.latex || asked.fog || asked.animals;
}

void add_sizes(Asked& asked, const Production& production, const SayFriends& say) {
  const bool costumes = std::any_of(production.looks.begin(),
                                    production.looks.end(),
                                    [](const Look& look) { return !look.items.empty(); });
  if (!costumes) return;
  std::set<std::string> keys;  // those the organiser measures people by
  for (const Person& person : production.people) {
    for (const auto& [key, size] : person.sizes) keys.insert(key);
  }
  if (keys.empty()) keys.insert("height_cm");
  for (const std::string& key : keys) {
    if (asked.sizes.size() == kMostChoices) break;
    asked.sizes.push_back(
        {key, contains(worded_sizes(), key) ? say("size." + key, {}) : readable(key)});
  }
}

AskedDay asked_day(const Production& production,
                   const Day& day,
                   const std::string& language,
                   const SayFriends& say) {
  AskedDay asked;
  asked.date = day.date;
  asked.label = long_date(day.date, language);
  WallTime last = day.wrap_by.value_or(WallTime{24 * 60});
  if (last.minutes <= day.nobody_before.minutes) {
    last = WallTime{day.nobody_before.minutes + 12 * 60};
  }
  if (last > kLatestWallTime) last = kLatestWallTime;
  asked.times.push_back(day.nobody_before);
  std::int32_t at = (day.nobody_before.minutes / kHalfHour + 1) * kHalfHour;
  for (; at < last.minutes; at += kHalfHour) asked.times.push_back(WallTime{at});
  asked.times.push_back(last);
  asked.hint =
      say("when.hours",
          {{"from", clock_words(day.nobody_before, say)}, {"until", clock_words(last, say)}});
  if (day.base.valid()) {
    const Place& base = production.places[day.base];
    asked.hint += " · " + (base.name.empty() ? base.id : base.name);
  }
  return asked;
}

}  // namespace

const std::vector<std::string>& worded_skills() {
  static const std::vector<std::string> known{
      "paint", "camera", "light", "sound",   "direct", "glue", "dance", "sing",
      "play",  "sew",    "cook",  "minding", "drive",  "bus",  "fog",   "first-aid",
      "hair",  "build",  "dog",   "swim",    "lace",   "draw", "edit",  "lift"};
  return known;
}

const std::vector<std::string>& worded_refusals() {
  static const std::vector<std::string> known{"face-paint",
                                              "glitter",
                                              "latex",
                                              "water",
                                              "fog",
                                              "fire",
                                              "height",
                                              "vehicle",
                                              "power",
                                              "replica-weapon",
                                              "animals",
                                              "flashing-light",
                                              "lifting",
                                              "heat",
                                              "cold",
                                              "food"};
  return known;
}

const std::vector<std::string>& worded_sizes() {
  static const std::vector<std::string> known{
      "height_cm", "head_cm", "chest_cm", "waist_cm", "hips_cm", "shoe_eu", "shoe_uk", "shoe_us"};
  return known;
}

std::string readable(std::string_view tag) {
  std::string text(tag);
  std::replace(text.begin(), text.end(), '-', ' ');
  std::replace(text.begin(), text.end(), '_', ' ');
  return text;
}

std::string label_of(const std::string& tag, const std::vector<AskedChoice>& choices) {
  for (const AskedChoice& choice : choices) {
    if (choice.tag == tag) return choice.label;
  }
  return readable(tag);
}

std::string date_language(const Production& production, const std::string& language) {
  const std::string own = production.language.substr(0, production.language.find('-'));
  return own == language ? production.language : language;
}

std::string clock_words(WallTime time, const SayFriends& say) {
  constexpr std::int32_t kDay = 24 * 60;
  if (time.minutes <= kDay) return format(time);
  return say("when.after_midnight", {{"time", format(WallTime{time.minutes % kDay})}});
}

Asked what_is_asked(const Production& production,
                    const std::string& language,
                    const SayFriends& say) {
  Asked asked;
  const std::string dates = date_language(production, language);
  for (const Day& day : production.days) {
    asked.days.push_back(asked_day(production, day, dates, say));
    asked.food = asked.food || !day.meals.empty();
  }
  const std::vector<CrewCall> crew = all_crew(production);
  add_parts(asked, production, say);
  add_jobs(asked, crew, say);
  add_skills(asked, production, crew, say);
  add_refusals(asked, production, say);
  add_sizes(asked, production, say);
  return asked;
}

}  // namespace gp
