#pragma once

#include "web/friends/asked.h"
#include "web/site.h"

#include <string>
#include <vector>

namespace gp {

// What the pages for friends share. The rooms of their own: sign-up (sign_up_pages.cpp), the
// personal page (own_page.cpp) and what is told through it (notice_pages.cpp).

void add_sign_up_pages(Site& site);
void add_own_pages(Site& site);
void add_notice_pages(Site& site);

SayFriends sayer(const Visit& visit);
/// The day by the production's zone, for judging ages.
Date today_of(const Visit& visit, const Production& production);
/// Links to the same page in every language; `back` is an address of ours.
void fill_languages(ViewData& data, const Visit& visit, const std::string& back);
/// A page of a heading, a few paragraphs and one way on.
HttpAnswer show_message(Visit& visit,
                        const std::string& title,
                        const std::vector<std::string>& paragraphs,
                        const std::string& to,
                        const std::string& to_words,
                        int status = 200);
/// The page that says that a change was not kept because others changed the same.
HttpAnswer show_refused(Visit& visit, const std::string& to);
/// The agreement to be filmed: the organiser's words, or ours.
std::string consent_words(const BookState& state, const Visit& visit);

}  // namespace gp
