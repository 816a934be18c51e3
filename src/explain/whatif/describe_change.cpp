#include "explain/whatif/change.h"
#include "time/clock.h"

#include <cstdlib>

namespace gp::whatif {
namespace {

std::string counted(int number, const std::string& one, const std::string& many) {
  return std::to_string(number) + " " + (number == 1 ? one : many);
}

/// "+1", "-2", "=3".
std::string word_of(Amount amount) {
  if (!amount.relative) return "=" + std::to_string(amount.value);
  return (amount.value > 0 ? "+" : "-") + std::to_string(std::abs(amount.value));
}

/// "1 chair more at Face paint (4)", "3 chairs at Face paint instead of 2".
std::string words_of(Amount amount,
                     int now,
                     const std::string& one,
                     const std::string& many,
                     const std::string& where = "") {
  if (!amount.relative) {
    return counted(amount.value, one, many) + where + " instead of " + std::to_string(now);
  }
  return counted(std::abs(amount.value), one, many) + (amount.value > 0 ? " more" : " fewer") +
         where + " (" + std::to_string(now + amount.value) + ")";
}

std::string minutes_text(Minutes minutes) {
  return counted(minutes.count(), "minute", "minutes");
}

std::string place_name(const Production& production, StationId id) {
  return production.stations[id].shown();
}

std::string on_day(const Production& production, const std::optional<DayId>& day) {
  return day ? " on " + format(production.days[*day].date) : "";
}

/// Writes a change as people read it.
struct Describer {
  const Production& production;

  std::string operator()(const Chairs& change) const {
    const Station& station = production.stations[change.station];
    return words_of(change.amount, station.places, "chair", "chairs", " at " + station.shown());
  }
  std::string operator()(const Things& change) const {
    const Item& item = production.items[change.item];
    return item.shown() + ": " + words_of(change.amount, item.count, "piece", "pieces");
  }
  std::string operator()(const Friends& change) const {
    std::string text =
        change.people == 1 ? "one more friend" : std::to_string(change.people) + " more friends";
    if (!change.what_for.empty()) text += " for " + change.what_for;
    std::string skills;
    for (const std::string& skill : change.skills) {
      if (skill != change.what_for) skills += (skills.empty() ? "" : ", ") + skill;
    }
    return skills.empty() ? text : text + " (can " + skills + ")";
  }
  std::string operator()(const Coming& change) const {
    return production.people[change.person].shown() + (change.comes ? " comes" : " does not come");
  }
  std::string operator()(const Learns& change) const {
    return production.people[change.person].shown() + " can " + change.skill;
  }
  std::string operator()(const FreeHours& change) const {
    return production.people[change.person].shown() + " is free " + hours_text(change.hours) +
           on_day(production, change.day);
  }
  std::string operator()(const OpenHours& change) const {
    return place_name(production, change.station) + " is open " + hours_text(change.hours);
  }
  std::string operator()(const DayTime& change) const {
    return moment_text(change) + on_day(production, change.day);
  }
  std::string operator()(const ChainTime& change) const {
    return (change.part == ChainPart::on ? "putting on " : "taking off ") +
           production.looks[change.look].shown() + " takes " +
           (change.per_cent ? std::to_string(std::abs(change.less)) + " %"
                            : minutes_text(Minutes{std::abs(change.less)})) +
           (change.less > 0 ? " less" : " more");
  }
  std::string operator()(const ShootTime& change) const {
    return "the shot of " + production.scenes[change.scene].shown() + " takes " +
           minutes_text(std::chrono::abs(change.less)) +
           (change.less > Minutes{0} ? " less" : " more");
  }
  std::string operator()(const Drop& change) const {
    return "without the scene " + production.scenes[change.scene].shown();
  }
  std::string operator()(const AnyTime& change) const {
    return production.scenes[change.scene].shown() + " at any time on any day";
  }
  std::string operator()(const Heads& change) const {
    const Scene& scene = production.scenes[change.scene];
    int now = 0;
    for (const CastCall& call : scene.cast) {
      if (call.role == change.role) now = call.people;
    }
    return production.roles[change.role].shown() + " in " + scene.shown() + ": " +
           words_of(change.amount, now, "head", "heads");
  }

 private:
  static std::string hours_text(const Hours& hours) {
    if (hours.always) return "all day";
    if (hours.hours) return format(*hours.hours);
    std::string text;
    if (hours.earlier > Minutes{0}) text = minutes_text(hours.earlier) + " earlier";
    if (hours.later > Minutes{0}) {
      text += (text.empty() ? "" : " and ") + minutes_text(hours.later) + " longer";
    }
    return text;
  }
  static std::string moment_text(const DayTime& change) {
    std::string text;
    switch (change.moment) {
      case DayMoment::first_shot:
        text = "first shot ";
        break;
      case DayMoment::wrap_by:
        text = "wrap by ";
        break;
      case DayMoment::nobody_before:
        text = "nobody before ";
        break;
    }
    if (change.at) return text + format(*change.at);
    if (change.later == Minutes{0}) return text + "any time";
    if (change.moment == DayMoment::wrap_by) text = "wrap ";
    if (change.moment == DayMoment::nobody_before) text = "calls may be ";
    return text + minutes_text(std::chrono::abs(change.later)) +
           (change.later > Minutes{0} ? " later" : " earlier");
  }
};

/// Writes a change as read_change() reads it.
struct Writer {
  const Production& production;
  using Text = std::optional<std::string>;

  Text operator()(const Chairs& change) const {
    return "chairs " + production.stations[change.station].id + " " + word_of(change.amount);
  }
  Text operator()(const Things& change) const {
    return "items " + production.items[change.item].id + " " + word_of(change.amount);
  }
  Text operator()(const Friends& change) const {
    const std::string number = change.people == 1 ? "" : " +" + std::to_string(change.people);
    std::vector<std::string> tries = {""};
    for (const RoleId role : change.roles) tries.push_back(production.roles[role].id);
    for (const StationId station : change.stations)
      tries.push_back(production.stations[station].id);
    tries.insert(tries.end(), change.skills.begin(), change.skills.end());
    tries.insert(tries.end(), change.jobs.begin(), change.jobs.end());
    // the same word first, then another that brings the same
    for (const bool same_word : {true, false}) {
      for (const std::string& word : tries) {
        std::optional<Friends> same = friends_for(production, word);
        if (!same) continue;
        same->people = change.people;
        if (!same_word) same->what_for = change.what_for;
        if (*same == change) return "friend" + (word.empty() ? "" : " " + word) + number;
      }
    }
    return std::nullopt;
  }
  Text operator()(const Coming& change) const {
    return (change.comes ? "with " : "without ") + production.people[change.person].id;
  }
  Text operator()(const Learns& change) const {
    return "can " + production.people[change.person].id + " " + change.skill;
  }
  Text operator()(const FreeHours& change) const {
    const Text hours = hours_words(change.hours);
    if (!hours) return hours;
    return "free " + production.people[change.person].id + " " + *hours + date(change.day);
  }
  Text operator()(const OpenHours& change) const {
    const Text hours = hours_words(change.hours);
    if (!hours) return hours;
    return "open " + production.stations[change.station].id + " " + *hours;
  }
  Text operator()(const DayTime& change) const {
    std::string text;
    switch (change.moment) {
      case DayMoment::first_shot:
        text = "first-shot ";
        break;
      case DayMoment::wrap_by:
        text = "wrap ";
        break;
      case DayMoment::nobody_before:
        text = "nobody-before ";
        break;
    }
    if (change.at) {
      text += format(*change.at);
    } else if (change.later == Minutes{0}) {
      text += "none";
    } else {
      text +=
          (change.later > Minutes{0} ? "+" : "-") + std::to_string(std::abs(change.later.count()));
    }
    return text + date(change.day);
  }
  Text operator()(const ChainTime& change) const {
    return (change.less > 0 ? "quicker " : "slower ") + production.looks[change.look].id +
           (change.part == ChainPart::off ? " off " : " ") + std::to_string(std::abs(change.less)) +
           (change.per_cent ? "%" : "");
  }
  Text operator()(const ShootTime& change) const {
    return (change.less > Minutes{0} ? "shorter " : "longer ") +
           production.scenes[change.scene].id + " " + std::to_string(std::abs(change.less.count()));
  }
  Text operator()(const Drop& change) const { return "drop " + production.scenes[change.scene].id; }
  Text operator()(const AnyTime& change) const {
    return "any-time " + production.scenes[change.scene].id;
  }
  Text operator()(const Heads& change) const {
    return "heads " + production.scenes[change.scene].id + " " + production.roles[change.role].id +
           " " + word_of(change.amount);
  }

 private:
  [[nodiscard]] std::string date(const std::optional<DayId>& day) const {
    return day ? " " + format(production.days[*day].date) : "";
  }
  static Text hours_words(const Hours& hours) {
    if (hours.always) return "always";
    if (hours.hours) return format(*hours.hours);
    if (hours.earlier > Minutes{0} && hours.later > Minutes{0}) return std::nullopt;
    if (hours.earlier > Minutes{0}) return std::to_string(hours.earlier.count()) + " earlier";
    return std::to_string(hours.later.count()) + " later";
  }
};

}  // namespace

std::string describe(const Production& production, const Change& change) {
  return std::visit(Describer{production}, change);
}

std::optional<std::string> written(const Production& production, const Change& change) {
  return std::visit(Writer{production}, change);
}

}  // namespace gp::whatif
