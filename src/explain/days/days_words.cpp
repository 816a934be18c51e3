#include "base/json_writer.h"
#include "explain/days/choose_days.h"
#include "time/clock.h"

namespace gp {
namespace {

std::string date_of(const Production& production, DayId day) {
  return format(production.days[day].date);
}

std::string dates_of(const Production& production, const std::vector<DayId>& days) {
  std::string text;
  for (const DayId day : days) text += (text.empty() ? "" : ", ") + date_of(production, day);
  return text;
}

std::string hours(std::int64_t minutes) {
  const std::string rest = std::to_string(100 + minutes % 60).substr(1);
  return std::to_string(minutes / 60) + " h " + rest;
}

std::size_t filmed(const Plan& plan) {
  std::size_t number = 0;
  for (const DayPlan& day : plan.days) number += day.scenes.size();
  return number;
}

std::string counted_text(std::size_t number, const std::string& one, const std::string& many) {
  return std::to_string(number) + " " + (number == 1 ? one : many);
}

std::string choice_line(const Production& production, const DaysChoice& choice) {
  return dates_of(production, choice.days) + ": " + std::to_string(filmed(choice.plan)) + " of " +
         counted_text(production.scenes.size(), "scene", "scenes") + ", " +
         counted_text(static_cast<std::size_t>(choice.price.unfilled), "place", "places") +
         " empty, " + counted_text(choice.people, "person", "people") + ", " +
         (choice.twice == 0 ? std::string("nobody comes twice")
                            : counted_text(choice.twice, "further call", "further calls") +
                                  " of people who come already") +
         ", " + hours(choice.price.on_site) + " on site";
}

char letter(OnDay it) {
  switch (it) {
    case OnDay::filmed:
      return 'x';
    case OnDay::tried:
      return 'o';
    case OnDay::shut:
      break;
  }
  return '-';
}

std::string word(OnDay it) {
  switch (it) {
    case OnDay::filmed:
      return "filmed";
    case OnDay::tried:
      return "not with the rest";
    case OnDay::shut:
      break;
  }
  return "no time that day";
}

void write_choice(const Production& production, const DaysChoice& choice, JsonWriter& out) {
  out.begin_object(JsonLayout::compact);
  out.key("days").begin_list();
  for (const DayId day : choice.days) out.text(date_of(production, day));
  out.end_list();
  out.key("filmed").number(static_cast<std::int64_t>(filmed(choice.plan)));
  out.key("unfilled").number(std::int64_t{choice.price.unfilled});
  out.key("people").number(static_cast<std::int64_t>(choice.people));
  out.key("further_calls").number(static_cast<std::int64_t>(choice.twice));
  out.key("on_site").number(choice.price.on_site);
  out.key("scenes").begin_list();
  for (const DayPlan& day : choice.plan.days) {
    for (const PlannedScene& scene : day.scenes) {
      out.begin_object();
      out.key("scene").text(production.scenes[scene.scene].id);
      out.key("day").text(date_of(production, day.day));
      out.end_object();
    }
  }
  out.end_list();
  out.end_object();
}

}  // namespace

std::string days_as_text(const Production& production, const DaysChosen& chosen) {
  std::string text = "Each day alone: x filmed, o not with the rest, - no time that day\n";
  for (std::size_t d = 0; d < chosen.alone.size(); ++d) {
    text += "  " + std::string(d * 2, ' ') + "+ " + date_of(production, chosen.alone[d].day) + "\n";
  }
  for (const SceneId scene : production.scenes.ids()) {
    text += "  ";
    for (const DayTried& tried : chosen.alone)
      text += std::string(1, letter(tried.scenes[scene])) + " ";
    text += production.scenes[scene].shown() + "\n";
  }
  text += "\n";
  for (const DayTried& tried : chosen.alone) {
    text += "  " + date_of(production, tried.day) + ": " +
            counted_text(filmed(tried.plan), "scene", "scenes") + ", " +
            counted_text(tried.people, "person", "people") + ", " + hours(tried.price.on_site) +
            " on site\n";
  }
  if (chosen.choices.empty()) return text + "\nNothing can be filmed on any of these days.\n";
  const DaysChoice& best = chosen.choices.front();
  text += "\nBest: " + choice_line(production, best) + "\n";
  for (const DayPlan& day : best.plan.days) {
    if (day.scenes.empty()) continue;
    text += "  " + date_of(production, day.day) + "\n";
    for (const PlannedScene& scene : day.scenes) {
      text += "    " + production.scenes[scene.scene].shown() + "\n";
    }
  }
  for (const NotFilmed& lost : best.plan.not_filmed) {
    text += "  not filmed: " + production.scenes[lost.scene].shown() + "\n";
  }
  bool heading = false;
  for (int wanted = 0; wanted < 3; ++wanted) {
    for (std::size_t i = 1; i < chosen.choices.size(); ++i) {
      if (distance_of(best, chosen.choices[i]) != wanted) continue;
      if (!heading) text += "\nOthers\n";
      heading = true;
      const std::string how = wanted == 0 ? "as good" : wanted == 1 ? "nearly as good" : "less";
      text += "  " + how + ": " + choice_line(production, chosen.choices[i]) + "\n";
    }
  }
  if (chosen.some_left_out) {
    text +=
        "\nThere are too many days to try every choice of them: only the likeliest were tried.\n";
  }
  return text;
}

std::string write_days(const Production& production, const DaysChosen& chosen) {
  JsonWriter out;
  out.begin_object();
  out.key("title").text(production.title);
  out.key("alone").begin_list();
  for (const DayTried& tried : chosen.alone) {
    out.begin_object(JsonLayout::compact);
    out.key("day").text(date_of(production, tried.day));
    out.key("people").number(static_cast<std::int64_t>(tried.people));
    out.key("on_site").number(tried.price.on_site);
    out.key("unfilled").number(std::int64_t{tried.price.unfilled});
    out.key("scenes").begin_list();
    for (const SceneId scene : production.scenes.ids()) {
      out.begin_object();
      out.key("scene").text(production.scenes[scene].id);
      out.key("is").text(word(tried.scenes[scene]));
      out.end_object();
    }
    out.end_list();
    out.end_object();
  }
  out.end_list();
  out.key("choices").begin_list();
  for (const DaysChoice& choice : chosen.choices) write_choice(production, choice, out);
  out.end_list();
  out.key("all_tried").boolean(!chosen.some_left_out && !chosen.stopped);
  out.end_object();
  return out.finish();
}

}  // namespace gp
