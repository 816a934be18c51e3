#include "web/organiser/rows.h"

#include "base/utf8.h"

#include <algorithm>

namespace gp {
namespace {

constexpr std::size_t kMostFriendsShown = 80;  ///< characters; all of it stands on their own page

}  // namespace

std::string state_class(SignUpState state) {
  switch (state) {
    case SignUpState::fresh:
      return "state-new";
    case SignUpState::accepted:
      return "state-yes";
    case SignUpState::waiting:
      return "state-wait";
    case SignUpState::declined:
      return "state-no";
    case SignUpState::withdrawn:
      break;
  }
  return "state-none";
}

ViewData& add_sign_up_row(Visit& visit,
                          ViewData& data,
                          const BookState& state,
                          const SignUp& sign_up,
                          const std::string& back) {
  const Production& production = *state.production;
  ViewData& row = data.add("ROW");
  row.set("NAME", sign_up.name.empty() ? organiser_words(visit, "people.nameless") : sign_up.name)
      .set("KEY", sign_up.id)
      .set("STATE", organiser_words(visit, "state." + name_of(sign_up.state)))
      .set("STATE_CLASS", state_class(sign_up.state))
      .set("ANSWER", organiser_words(visit, "answer." + name_of(sign_up.answer)))
      .set("WHEN", moment_words(production, sign_up.changed_at, date_tongue(visit)))
      .set("FREE", free_words(visit, production, sign_up.free))
      .set("CSRF", visit.csrf)
      .set("BACK", back);
  if (!sign_up.seen && sign_up.state != SignUpState::fresh) row.show("UNSEEN");
  if (!sign_up.can.empty()) row.add("CAN").set("TEXT", listed(sign_up.can));
  if (!sign_up.no.empty()) row.add("NO").set("TEXT", listed(sign_up.no));
  if (!sign_up.friends.empty()) {
    std::string names = sign_up.friends;
    std::replace(names.begin(), names.end(), '\n', ' ');
    row.add("FRIENDS").set("TEXT", shortened(names, kMostFriendsShown));
  }
  if (!sign_up.brings.empty()) {
    std::vector<std::string> names;
    for (const Companion& companion : sign_up.brings) {
      const std::string key = companion.child ? "people.child" : "people.companion";
      names.push_back(organiser_words(visit, key, {{"name", companion.name}}));
    }
    row.add("BRINGS").set("TEXT", listed(names));
  }
  if (!sign_up.adult) {
    row.add("MINOR").set("TEXT",
                         organiser_words(visit, "people.with", {{"name", sign_up.guardian}}));
  }
  if (sign_up.state != SignUpState::accepted) row.show("ACCEPT");
  if (sign_up.state == SignUpState::fresh || sign_up.state == SignUpState::accepted) {
    row.show("WAIT");
  }
  if (sign_up.state != SignUpState::declined && sign_up.state != SignUpState::withdrawn) {
    row.show("DECLINE");
  }
  return row;
}

WantsAnswer wants_answer(const BookState& state) {
  WantsAnswer wants;
  for (const auto& sign_up : state.sign_ups) {
    if (sign_up->state == SignUpState::fresh) {
      ++wants.fresh;
    } else if (!sign_up->seen) {
      ++wants.changed;
    }
    for (const Notice& notice : sign_up->notices) wants.notices += notice.seen ? 0 : 1;
  }
  return wants;
}

}  // namespace gp
