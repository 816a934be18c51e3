#include "store/settings.h"
#include "text/clean.h"
#include "time/day_clock.h"
#include "web/friends/friends_pages.h"

#include <algorithm>
#include <chrono>

namespace gp {
namespace {

constexpr int kLanguageSeconds = 365 * 24 * 60 * 60;

/// An address of these pages and of no other: nobody is led elsewhere by a prepared link.
bool is_ours(const std::string& address) {
  return address.starts_with('/') && !address.starts_with("//") &&
         std::all_of(address.begin(), address.end(), [](char c) {
           return c > ' ' && c < 0x7f && c != '\\' && c != '"' && c != '<' && c != '>';
         });
}

/// The language's own name, as its readers look for it.
std::string own_name(const std::string& language) {
  if (language == "de") return "Deutsch";
  if (language == "en") return "English";
  if (language == "es") return "Español";
  if (language == "fr") return "Français";
  return language;
}

HttpAnswer choose_language(Visit& visit) {
  const auto asked = [&](const char* name) {
    const auto found = visit.request.query.find(name);
    return found == visit.request.query.end() ? std::string() : found->second;
  };
  const std::string back = asked("back");
  HttpAnswer answer = HttpAnswer::go_to(is_ours(back) ? back : "/");
  const std::vector<std::string>& languages = visit.site.views().languages();
  const std::string wanted = asked("to");
  if (std::find(languages.begin(), languages.end(), wanted) != languages.end()) {
    answer.cookies.push_back({std::string(kLanguageCookie), wanted, kLanguageSeconds});
  }
  return answer;
}

}  // namespace

SayFriends sayer(const Visit& visit) {
  // Values stand in a sentence between marks that keep their direction; the pages need them as
  // little in forms as a browser does in elements of their own, but in sentences they stay.
  return [&visit](std::string_view key, const std::vector<WordValue>& values) {
    return visit.say("friends", key, values);
  };
}

Date today_of(const Visit& visit, const Production& production) {
  const std::chrono::sys_seconds now{std::chrono::seconds(visit.now)};
  const Date utc{std::chrono::floor<std::chrono::days>(now)};
  // the zone may be a day ahead or behind
  for (const int ahead : {1, 0, -1}) {
    const Date day{std::chrono::sys_days(utc) + std::chrono::days(ahead)};
    if (!date_exists(day, production.zone)) continue;
    if (CalendarDay(day, production.zone).utc(minute(0)) <= now) return day;
  }
  return utc;
}

void fill_languages(ViewData& data, const Visit& visit, const std::string& back) {
  ViewData& list = data.add("LANGUAGES");
  for (const std::string& language : visit.site.views().languages()) {
    ViewData& one = list.add("TONGUE");
    one.set("TAG", language).set("OWN_NAME", own_name(language)).set("BACK", back);
    one.show(language == visit.language ? "CURRENT" : "OTHER");
  }
}

HttpAnswer show_message(Visit& visit,
                        const std::string& title,
                        const std::vector<std::string>& paragraphs,
                        const std::string& to,
                        const std::string& to_words,
                        int status) {
  ViewData data;
  data.set("HEADING", title).set("TO", to).set("TO_WORDS", to_words);
  for (const std::string& text : paragraphs) data.add("PARAGRAPH").set("WORDS", text);
  return visit.site.show(visit, "friends/message", title, data, status);
}

HttpAnswer show_refused(Visit& visit, const std::string& to) {
  return show_message(visit,
                      visit.say("friends", "refused.title"),
                      {visit.say("friends", "refused.text")},
                      to,
                      visit.say("friends", "refused.on"),
                      409);
}

std::string consent_words(const BookState& state, const Visit& visit) {
  const Settings settings = read_settings(state.settings);
  if (!settings.consent.empty()) return settings.consent;
  return without_isolates(
      visit.say("friends", "film.standard", {{"film", state.production->title}}));
}

void add_friends_pages(Site& site) {
  site.add({"GET", "/language", Access::anyone, choose_language});
  add_sign_up_pages(site);
  add_own_pages(site);
  add_notice_pages(site);
}

}  // namespace gp
