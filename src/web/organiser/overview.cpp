#include "store/settings.h"
#include "text/dates.h"
#include "web/organiser/common.h"
#include "web/organiser/needs.h"
#include "web/organiser/rows.h"

#include <array>

namespace gp {
namespace {

/// Notices that nobody has looked at, newest first.
void add_notices(Visit& visit, ViewData& data, const BookState& state) {
  struct Entry {
    const SignUp* sign_up;
    const Notice* notice;
  };
  std::vector<Entry> list;
  for (const auto& sign_up : state.sign_ups) {
    for (const Notice& notice : sign_up->notices) {
      if (!notice.seen) list.push_back({sign_up.get(), &notice});
    }
  }
  std::stable_sort(list.begin(), list.end(), [](const Entry& a, const Entry& b) {
    return a.notice->at > b.notice->at;
  });
  if (list.empty()) return;
  ViewData& section = data.add("NOTICES");
  for (const Entry& entry : list) {
    const Notice& notice = *entry.notice;
    const std::string day = short_date(notice.day, date_tongue(visit));
    ViewData& row = section.add("NOTICE");
    row.set("NAME", entry.sign_up->name)
        .set("KEY", entry.sign_up->id)
        .set("WHEN", moment_words(*state.production, notice.at, date_tongue(visit)))
        .set("WORDS", notice.words)
        .set("CSRF", visit.csrf);
    if (notice.cannot_come) {
      row.set("STATE", organiser_words(visit, "notice.cannot_come", {{"day", day}}));
      row.set("STATE_CLASS", "state-no");
    } else {
      row.set("STATE",
              organiser_words(
                  visit,
                  "notice.late",
                  {{"minutes", static_cast<std::int64_t>(notice.minutes_late)}, {"day", day}}));
      row.set("STATE_CLASS", "state-late");
    }
    if (!entry.sign_up->phone.empty()) row.add("PHONE").set("TEXT", entry.sign_up->phone);
  }
}

void add_counts(Visit& visit, ViewData& data, const BookState& state) {
  std::array<std::int64_t, 4> of_answer{};
  std::int64_t children = 0;
  for (const Person& person : state.production->people) {
    ++of_answer[static_cast<std::size_t>(person.answer)];
    if (person.guardian.valid() && person.answer == Answer::yes) ++children;
  }
  const auto number = [&](Answer answer) { return of_answer[static_cast<std::size_t>(answer)]; };
  data.set("COMING", number(Answer::yes))
      .set("MAYBE", number(Answer::maybe))
      .set("ASKED", number(Answer::asked))
      .set("NOT_COMING", number(Answer::no));
  if (children > 0) {
    data.add("CHILDREN")
        .set("TEXT", organiser_words(visit, "overview.children", {{"count", children}}));
  }
}

void add_missing(Visit& visit, ViewData& data, const Production& production) {
  constexpr std::size_t kMost = 8;
  const std::vector<Shortage> list = shortages(production);
  if (list.empty()) {
    data.show("NOTHING_MISSING");
    return;
  }
  ViewData& section = data.add("MISSING");
  for (std::size_t i = 0; i < list.size() && i < kMost; ++i) {
    section.add("SHORT").set("TEXT",
                             organiser_words(visit,
                                             "needs.short",
                                             {{"scene", production.scenes[list[i].scene].shown()},
                                              {"what", list[i].what},
                                              {"wanted", std::int64_t{list[i].wanted}},
                                              {"could", std::int64_t{list[i].could}}}));
  }
  if (list.size() > kMost) {
    section.add("MORE").set(
        "TEXT",
        organiser_words(
            visit, "needs.more", {{"count", static_cast<std::int64_t>(list.size() - kMost)}}));
  }
}

void add_plan_state(Visit& visit, ViewData& data, const BookState& state) {
  const auto plan = visit.site.plans().newest();
  if (!plan) {
    data.show("NO_PLAN");
    return;
  }
  ViewData& section = data.add("PLAN");
  section.set("MADE",
              organiser_words(
                  visit,
                  "overview.planned",
                  {{"number", plan->kept->number},
                   {"when", moment_words(*state.production, plan->kept->at, date_tongue(visit))}}));
  const auto lost = static_cast<std::int64_t>(plan->plan.not_filmed.size());
  std::int64_t heads = 0;
  for (const Unfilled& entry : plan->plan.unfilled) heads += entry.missing;
  section.set(
      "LACKS",
      lost + heads == 0
          ? organiser_words(visit, "overview.plan_full")
          : organiser_words(visit, "overview.plan_lacks", {{"scenes", lost}, {"heads", heads}}));
  if (out_of_date(state, *plan)) section.show("OLD");
}

/// What changes while the page is open; the script asks for it every ten seconds.
std::string draw_news(Visit& visit, const BookState& state) {
  ViewData data;
  add_notices(visit, data, state);
  const WantsAnswer wants = wants_answer(state);
  data.set("WAITING",
           organiser_words(visit,
                           "overview.waiting",
                           {{"fresh", static_cast<std::int64_t>(wants.fresh)},
                            {"changed", static_cast<std::int64_t>(wants.changed)}}));
  return visit.site.views().part("organiser/news", data, visit.language);
}

HttpAnswer show_overview(Visit& visit) {
  const auto state = visit.site.book().state();
  ViewData data;
  show_done(visit, data);
  data.set("CSRF", visit.csrf);
  // a part of our own templates, escaped when it was drawn
  data.set_markup("NEWS", draw_news(visit, *state));
  bool any_new = false;
  bool any_changed = false;
  ViewData* fresh = nullptr;
  ViewData* changed = nullptr;
  for (auto one = state->sign_ups.rbegin(); one != state->sign_ups.rend(); ++one) {
    const SignUp& sign_up = **one;
    if (sign_up.state == SignUpState::fresh) {
      if (!any_new) fresh = &data.add("FRESH");
      any_new = true;
      add_sign_up_row(visit, *fresh, *state, sign_up, "/organise");
    } else if (!sign_up.seen) {
      if (!any_changed) changed = &data.add("CHANGED");
      any_changed = true;
      add_sign_up_row(visit, *changed, *state, sign_up, "/organise");
    }
  }
  if (!wants_answer(*state).any()) data.show("ALL_ANSWERED");
  add_counts(visit, data, *state);
  add_missing(visit, data, *state->production);
  add_plan_state(visit, data, *state);
  data.show(read_settings(state->settings).sign_ups_open ? "OPEN" : "CLOSED");
  return visit.site.show(
      visit, "organiser/overview", organiser_words(visit, "overview.title"), data);
}

HttpAnswer show_news(Visit& visit) {
  return HttpAnswer::page(draw_news(visit, *visit.site.book().state()));
}

}  // namespace

void add_overview_pages(Site& site) {
  site.add({"GET", "/organise", Access::organiser, show_overview});
  site.add({"GET", "/organise/news", Access::organiser, show_news});
}

}  // namespace gp
