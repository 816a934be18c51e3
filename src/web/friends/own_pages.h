#pragma once

#include "web/friends/friends_pages.h"
#include "web/friends/own_day.h"
#include "web/friends/slip_words.h"

#include <memory>
#include <optional>
#include <string>

namespace gp {

/// What the personal pages keep from visit to visit. Threads: any.
struct OwnRoom {
  explicit OwnRoom(const std::string& templates_dir) : words(templates_dir + "/words") {}
  SlipWords words;
};

/// The sign-up of the personal link with which the visitor came.
std::shared_ptr<const SignUp> own_sign_up(Visit& visit, const BookState& state);
/// The newest notice of a kind for a day; null: none.
const Notice* notice_of(const SignUp& sign_up, Date day, bool cannot_come);

HttpAnswer show_own_page(Visit& visit, OwnRoom& room);
HttpAnswer send_calendar(Visit& visit, OwnRoom& room);

}  // namespace gp
