#include "store/enrol.h"
#include "text/order.h"
#include "web/likes.h"
#include "web/organiser/common.h"
#include "web/organiser/rows.h"

#include <algorithm>
#include <array>
#include <optional>
#include <set>

namespace gp {
namespace {

constexpr std::array<const char*, 5> kStates = {
    "fresh", "accepted", "waiting", "declined", "withdrawn"};

bool is_state(const std::string& key) {
  return std::find(kStates.begin(), kStates.end(), key) != kStates.end();
}

std::string page_of(const std::string& filter) {
  return filter.empty() ? "/organise/people" : "/organise/people?state=" + filter;
}

void add_filters(Visit& visit, ViewData& data, const BookState& state, const std::string& filter) {
  const auto add = [&](const std::string& key, std::int64_t count, const std::string& words) {
    if (count == 0 && key != filter) return;
    ViewData& row = data.add("FILTER");
    row.set("ADDRESS", page_of(key)).set("LABEL", words).set("COUNT", count);
    row.show(key == filter ? "HERE" : "THERE");
  };
  add("", static_cast<std::int64_t>(state.sign_ups.size()), organiser_words(visit, "people.all"));
  for (const char* const key : kStates) {
    const auto count =
        std::count_if(state.sign_ups.begin(), state.sign_ups.end(), [&](const auto& sign_up) {
          return name_of(sign_up->state) == key;
        });
    add(key, count, organiser_words(visit, std::string("state.") + key));
  }
}

/// People of the production who have no sign-up of their own and came with nobody's.
void add_others(Visit& visit, ViewData& data, const BookState& state) {
  const Production& production = *state.production;
  std::set<std::string> told;
  for (const auto& sign_up : state.sign_ups) {
    told.insert(sign_up->person);
    for (const Companion& companion : sign_up->brings) told.insert(companion.person);
  }
  const NameOrder order(visit.language);
  std::vector<std::pair<std::string, PersonId>> others;
  for (const PersonId id : production.people.ids()) {
    const Person& person = production.people[id];
    if (!told.contains(person.id)) others.emplace_back(order.key(person.shown()), id);
  }
  if (others.empty()) return;
  std::sort(others.begin(), others.end());
  ViewData& section = data.add("OTHERS");
  for (const auto& [key, id] : others) {
    const Person& person = production.people[id];
    ViewData& row = section.add("OTHER");
    row.set("NAME", person.shown())
        .set("KEY", person_key(person.id))
        .set("ANSWER", organiser_words(visit, "answer." + name_of(person.answer)))
        .set("FREE", free_words(visit, production, person.free));
    if (person.guardian.valid()) {
      row.add("MINOR").set(
          "TEXT",
          organiser_words(
              visit, "people.with", {{"name", production.people[person.guardian].shown()}}));
    }
  }
}

HttpAnswer show_people(Visit& visit) {
  const auto state = visit.site.book().state();
  std::string filter = query_of(visit, "state");
  if (!is_state(filter)) filter.clear();
  ViewData data;
  show_done(visit, data);
  add_filters(visit, data, *state, filter);
  std::vector<const SignUp*> list;
  for (const auto& sign_up : state->sign_ups) {
    if (filter.empty() || name_of(sign_up->state) == filter) list.push_back(sign_up.get());
  }
  // who waits for an answer first, then what nobody looked at, then the newest
  std::stable_sort(list.begin(), list.end(), [](const SignUp* a, const SignUp* b) {
    const auto rank = [](const SignUp& s) {
      return s.state == SignUpState::fresh ? 0 : s.seen ? 2 : 1;
    };
    if (rank(*a) != rank(*b)) return rank(*a) < rank(*b);
    return a->changed_at > b->changed_at;
  });
  for (const SignUp* const sign_up : list) {
    add_sign_up_row(visit, data, *state, *sign_up, page_of(filter));
  }
  if (list.empty()) data.show("NOBODY");
  if (filter.empty()) add_others(visit, data, *state);
  return visit.site.show(visit, "organiser/people", organiser_words(visit, "people.title"), data);
}

/// Where a form may send its sender back to: pages of this room alone.
std::string back_of(const Visit& visit) {
  const std::string back = visit.request.field("back");
  if (back == "/organise") return back;
  for (const char* const key : kStates) {
    if (back == page_of(key)) return back;
  }
  if (back == "/organise/people/" + visit.path.front()) return back;
  return "/organise/people";
}

HttpAnswer decide(Visit& visit) {
  const auto state = visit.site.book().state();
  const auto sign_up = state->sign_up(visit.path.front());
  if (!sign_up) return visit.site.show_error(visit, 404);
  const std::string wanted = visit.request.field("state");
  Change change;
  // whoever decides has looked at it
  SignUp looked_at = *sign_up;
  looked_at.seen = true;
  if (wanted == "accepted") {
    if (sign_up->state == SignUpState::accepted) return HttpAnswer::go_to(back_of(visit));
    change = with_likes(*state, accept(*state, looked_at, "organiser", visit.now));
  } else if (wanted == "waiting" || wanted == "declined" || wanted == "fresh") {
    const SignUpState next = wanted == "waiting"    ? SignUpState::waiting
                             : wanted == "declined" ? SignUpState::declined
                                                    : SignUpState::fresh;
    if (sign_up->state == next) return HttpAnswer::go_to(back_of(visit));
    change = set_state(*state, looked_at, next, "organiser", visit.now);
  } else {
    return visit.site.show_error(visit, 400);
  }
  return after_change(visit, visit.site.book().change(std::move(change)), back_of(visit));
}

}  // namespace

void add_people_pages(Site& site) {
  site.add({"GET", "/organise/people", Access::organiser, show_people});
  site.add({"POST", "/organise/people/:key/decide", Access::organiser, decide});
}

}  // namespace gp
