#include "search/planner.h"
#include "sheets/day_facts.h"
#include "text/dates.h"
#include "web/organiser/common.h"
#include "web/organiser/plan_day.h"
#include "web/organiser/plan_sheets.h"

#include <algorithm>
#include <cmath>

namespace gp {
namespace {

std::string draw_progress(Visit& visit) {
  const Planning::State now = visit.site.planning().state();
  ViewData data;
  data.set("CSRF", visit.csrf);
  switch (now.kind) {
    case Planning::State::Kind::running: {
      ViewData& running = data.add("RUNNING");
      running.set("CSRF", visit.csrf)
          .set("PERCENT", static_cast<std::int64_t>(std::lround(now.share * 100)))
          .set("BEST", length_words(visit, now.on_site));
      break;
    }
    case Planning::State::Kind::done:
    case Planning::State::Kind::cancelled:
      data.add(now.kind == Planning::State::Kind::done ? "READY" : "CANCELLED")
          .set("NUMBER", now.plan);
      break;
    case Planning::State::Kind::failed:
      data.add("FAILED").set("TEXT", now.text);
      break;
    case Planning::State::Kind::idle:
      break;
  }
  return visit.site.views().part("organiser/progress", data, visit.language);
}

void add_totals(Visit& visit, ViewData& data, const ReadPlan& read) {
  const Totals& totals = read.plan.totals;
  data.set("ON_SITE", length_words(visit, totals.on_site))
      .set("WAITING", length_words(visit, totals.waiting));
  if (totals.proven) {
    data.show("PROVEN");
  } else if (totals.bound && read.production->aim == Aim::least_time && *totals.bound > 0) {
    // both are minutes times weight, in thousandths
    const double gap = static_cast<double>(totals.weighted_on_site - *totals.bound) /
                       static_cast<double>(*totals.bound);
    data.add("BOUND").set(
        "TEXT",
        organiser_words(visit,
                        "plan.bound",
                        {{"least", length_words(visit, *totals.bound / 1000)},
                         {"percent", static_cast<std::int64_t>(std::ceil(gap * 100))}}));
  }
}

void add_losses(Visit& visit, ViewData& data, const ReadPlan& read) {
  const Production& production = *read.production;
  for (const NotFilmed& one : read.plan.not_filmed) {
    data.add("LOST").set("SCENE_NAME", production.scenes[one.scene].shown()).set("WHY", one.why);
  }
  for (const Unfilled& one : read.plan.unfilled) {
    data.add("SHORT")
        .set("SCENE_NAME", production.scenes[one.scene].shown())
        .set("WHAT",
             organiser_words(
                 visit,
                 "plan.missing",
                 {{"count", std::int64_t{one.missing}},
                  {"what", one.role.valid() ? production.roles[one.role].shown() : one.job}}))
        .set("WHY", one.why);
  }
  if (read.plan.not_filmed.empty() && read.plan.unfilled.empty()) data.show("ALL_DONE");
  if (read.plan.notes.empty()) return;
  ViewData& notes = data.add("NOTES");
  for (const Note& note : read.plan.notes) {
    notes.add("NOTE").set("TEXT", note.text);
  }
}

void add_older(Visit& visit, ViewData& data, const BookState& state, std::int64_t shown) {
  constexpr std::int64_t kMost = 12;
  if (!state.plan || state.plan->number < 2) return;
  ViewData& section = data.add("OTHERS");
  for (std::int64_t number = state.plan->number;
       number > std::max<std::int64_t>(0, state.plan->number - kMost);
       --number) {
    const auto kept = visit.site.book().plan(number);
    if (!kept) continue;
    ViewData& row = section.add("OTHER");
    row.set("NUMBER", number)
        .set("WHEN", moment_words(*state.production, kept->at, date_tongue(visit)));
    row.show(number == shown ? "HERE" : "THERE");
  }
}

/// One day at a time: a page stays small however long the production is. The day asked for, else
/// the first one on which something is filmed.
void add_chosen_day(Visit& visit, ViewData& plan, const ReadPlan& read) {
  const auto& days = read.plan.days;
  if (days.empty()) return;
  const auto filmed = std::find_if(
      days.begin(), days.end(), [](const DayPlan& day) { return !day.scenes.empty(); });
  std::size_t shown = filmed == days.end() ? 0 : static_cast<std::size_t>(filmed - days.begin());
  const auto asked = visit.request.query.find("day");
  if (asked != visit.request.query.end()) {
    const auto number = whole_number(asked->second, 1, static_cast<std::int64_t>(days.size()));
    if (number) shown = static_cast<std::size_t>(*number - 1);
  }
  if (days.size() > 1) {
    ViewData& list = plan.add("DAYS");
    for (std::size_t day = 0; day < days.size(); ++day) {
      list.add("ONE_DAY")
          .add(day == shown ? "HERE" : "THERE")
          .set("NUMBER", read.kept->number)
          .set("DAY_NUMBER", static_cast<std::int64_t>(day + 1))
          .set("DATE", long_date(read.days[day]->day().date, date_tongue(visit)));
    }
  }
  add_plan_day(visit, plan, *read.days[shown], "d" + std::to_string(shown + 1));
}

HttpAnswer show_plan(Visit& visit, const std::shared_ptr<const ReadPlan>& read) {
  const auto state = visit.site.book().state();
  ViewData data;
  data.set("CSRF", visit.csrf);
  data.set_markup("PROGRESS", draw_progress(visit));  // a template's, escaped
  std::string title = organiser_words(visit, "plan.title");
  if (read) {
    ViewData& plan = data.add("PLAN");
    title = organiser_words(visit, "plan.title_of", {{"number", read->kept->number}});
    plan.set("NUMBER", read->kept->number)
        .set("WHEN", moment_words(*state->production, read->kept->at, date_tongue(visit)));
    if (out_of_date(*state, *read)) plan.show("OLD");
    if (state->plan && state->plan->number != read->kept->number) plan.show("NOT_NEWEST");
    add_totals(visit, plan, *read);
    add_losses(visit, plan, *read);
    add_chosen_day(visit, plan, *read);
    add_older(visit, plan, *state, read->kept->number);
  } else {
    data.show("NO_PLAN");
  }
  data.set("HEADING", title);
  return visit.site.show(visit, "organiser/plan", title, data);
}

HttpAnswer show_numbered(Visit& visit) {
  const auto number = whole_number(visit.path.front(), 1, INT64_MAX / 100);
  const auto read = number ? visit.site.plans().numbered(*number) : nullptr;
  if (!read) return visit.site.show_error(visit, 404);
  return show_plan(visit, read);
}

HttpAnswer start_planning(Visit& visit) {
  Wishes wishes;
  wishes.threads = kUsualThreads;
  wishes.answers.maybe = visit.request.has_field("maybe");
  wishes.answers.asked = visit.request.has_field("asked");
  constexpr double kLonger = 5;
  if (visit.request.has_field("longer")) wishes.effort = kLonger;
  visit.site.planning().start(wishes);  // where one is running already, its progress is shown
  return HttpAnswer::go_to("/organise/plan");
}

}  // namespace

void add_plan_pages(Site& site) {
  site.add({"GET", "/organise/plan", Access::organiser, [](Visit& visit) {
              return show_plan(visit, visit.site.plans().newest());
            }});
  site.add({"GET", "/organise/plan/progress", Access::organiser, [](Visit& visit) {
              return HttpAnswer::page(draw_progress(visit));
            }});
  site.add({"POST", "/organise/plan/start", Access::organiser, start_planning});
  site.add({"POST", "/organise/plan/cancel", Access::organiser, [](Visit& visit) {
              visit.site.planning().cancel();
              return HttpAnswer::go_to("/organise/plan");
            }});
  site.add({"GET", "/organise/plan/:number", Access::organiser, show_numbered});
  add_sheet_pages(site);
}

}  // namespace gp
