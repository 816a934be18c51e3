#include "web/friends/sign_up_flow.h"

#include "store/settings.h"
#include "web/friends/birth_date.h"
#include "web/friends/friends_pages.h"
#include "web/friends/step_view.h"

#include <algorithm>
#include <memory>
#include <utility>

namespace gp {
namespace {

/// One page being taken or shown.
class Flow {
 public:
  Flow(Visit& visit, SignUpKeeper& keeper)
      : visit_(visit),
        keeper_(keeper),
        state_(visit.site.book().state()),
        say_(sayer(visit)),
        before_(keeper.before()) {
    look_up();
  }

  HttpAnswer begin(SignUpStep at) {
    today_ = today_of(visit_, *state_->production);
    if (!keeper_.before().name.empty()) typed_ = typed_of(before_, asked_, today_);
    return show(at);
  }

  HttpAnswer go_on() {
    const HttpRequest& request = visit_.request;
    typed_ = TypedAnswers(request);
    const SignUpStep step = sign_up_step(request.field("step")).value_or(SignUpStep::you);
    editing_ = request.field("edit") == "1";
    if (step == SignUpStep::companion) {
      companion_ = std::min<std::size_t>(
          static_cast<std::size_t>(typed_number(request.field("index")).value_or(0)),
          kMostCompanions - 1);
    }
    const std::string go = request.field("go");
    const auto after = [&](std::string_view prefix) { return go.substr(prefix.size()); };
    if (go.starts_with("say-")) return in_language(after("say-"), step);
    if (go == "back") return back(step);
    if (go == "send") return send();
    if (go.starts_with("to-")) return edit(sign_up_step(after("to-")));
    if (go.starts_with("change-")) return show_companion(typed_number(after("change-")));
    if (go.starts_with("remove-")) return remove_companion(typed_number(after("remove-")));
    return on(step);
  }

 private:
  void look_up() {
    asked_ = what_is_asked(*state_->production, visit_.language, say_);
    consent_ = consent_words(*state_, visit_);
    today_ = today_of(visit_, *state_->production);
  }
  [[nodiscard]] ReadAnswers read() const {
    return read_answers(typed_, asked_, before_, consent_, today_, say_);
  }
  [[nodiscard]] std::vector<SignUpFault> faults_of(SignUpStep step) const {
    std::vector<SignUpFault> here;
    for (SignUpFault& fault : read().faults) {
      if (fault.step != step) continue;
      if (step == SignUpStep::companion &&
          !fault.field.starts_with(companion_field(companion_, ""))) {
        continue;
      }
      here.push_back(std::move(fault));
    }
    return here;
  }

  HttpAnswer in_language(const std::string& language, SignUpStep step) {
    const std::vector<std::string>& known = visit_.site.views().languages();
    if (std::find(known.begin(), known.end(), language) != known.end()) {
      visit_.language = language;
      look_up();
    }
    HttpAnswer answer = show(step);
    answer.cookies.push_back({std::string(kLanguageCookie), visit_.language, 365 * 24 * 60 * 60});
    return answer;
  }

  HttpAnswer back(SignUpStep step) {
    if (step == SignUpStep::companion) {
      // one who was begun and left nameless is not kept
      if (tidy_line(typed_.first(companion_field(companion_, "name"))).empty()) {
        typed_.erase_companion(companion_);
      }
      return show(SignUpStep::brings);
    }
    if (editing_ && step != SignUpStep::check) {
      editing_ = false;
      return show_check();
    }
    return show(step_before(step, asked_, typed_).value_or(SignUpStep::you));
  }

  HttpAnswer edit(std::optional<SignUpStep> step) {
    if (!step || *step == SignUpStep::companion) return show_check();
    editing_ = *step != SignUpStep::check;
    return show(*step);
  }

  HttpAnswer show_companion(std::optional<int> index) {
    const auto wanted = static_cast<std::size_t>(index.value_or(0));
    if (wanted > typed_.companions() || wanted >= kMostCompanions) return show(SignUpStep::brings);
    companion_ = wanted;
    return show(SignUpStep::companion);
  }

  HttpAnswer remove_companion(std::optional<int> index) {
    if (index) typed_.erase_companion(static_cast<std::size_t>(*index));
    return show(SignUpStep::brings);
  }

  HttpAnswer on(SignUpStep step) {
    if (step == SignUpStep::check) return show_check();
    if (step == SignUpStep::brings) return on_from_brings();
    std::vector<SignUpFault> faults = faults_of(step);
    if (!faults.empty()) return show(step, std::move(faults));
    if (step == SignUpStep::companion) return show(SignUpStep::brings);
    if (editing_) return show_check();
    const SignUpStep next = step_after(step, asked_, typed_);
    return next == SignUpStep::check ? show_check() : show(next);
  }

  HttpAnswer on_from_brings() {
    const std::string more = typed_.first("brings");
    typed_.erase("brings");
    const std::size_t count = typed_.companions();
    if (more == "yes" && count < kMostCompanions) return show_companion(static_cast<int>(count));
    if (more != "yes" && more != "no" && count == 0) {
      return show(SignUpStep::brings,
                  {{SignUpStep::brings, "brings", visit_.say("friends", "fault.brings")}});
    }
    if (editing_) return show_check();
    const SignUpStep next = step_after(SignUpStep::brings, asked_, typed_);
    return next == SignUpStep::check ? show_check() : show(next);
  }

  /// Shows the first page on which something is wrong. None: all is right.
  std::optional<HttpAnswer> first_wrong() {
    const ReadAnswers answers = read();
    // A page that is not asked has no say: whoever is of age needs no guardian.
    for (std::size_t at = 0; at <= static_cast<std::size_t>(SignUpStep::check); ++at) {
      const auto step = static_cast<SignUpStep>(at);
      for (const SignUpFault& fault : answers.faults) {
        if (fault.step != step) continue;
        if (step == SignUpStep::companion) {
          const auto index = typed_number(fault.field.substr(1, fault.field.find('_') - 1));
          companion_ = static_cast<std::size_t>(index.value_or(0));
        }
        editing_ = step != SignUpStep::check;
        return show(step, faults_of(step));
      }
    }
    return std::nullopt;
  }

  HttpAnswer show_check() {
    if (auto wrong = first_wrong()) return std::move(*wrong);
    return show(SignUpStep::check);
  }

  HttpAnswer send() {
    if (auto wrong = first_wrong()) return std::move(*wrong);
    return keeper_.keep(visit_, read().sign_up);
  }

  HttpAnswer show(SignUpStep step, std::vector<SignUpFault> faults = {}) {
    const bool wrong = !faults.empty();
    ViewData data;
    data.set("ACTION", keeper_.address())
        .set("FORM_KEY", keeper_.form_key())
        .set("STEP", name_of(step))
        .set("EDIT", editing_ ? "1" : "0")
        .set("INDEX", static_cast<std::int64_t>(companion_))
        .set("CSRF", visit_.csrf);
    fill_kept(data, step);
    fill_problem(data, faults);
    const std::string key = std::string(name_of(step)) + ".";
    const std::string title = title_of(step);
    data.set("HEADING", title);
    if (step != SignUpStep::check && step != SignUpStep::film) {
      data.add("LEDE").set("LEDE_WORDS", visit_.say("friends", key + "lede"));
    }
    if (step_before(step, asked_, typed_) || editing_) data.show("CAN_GO_BACK");
    fill_tongues(data);
    if (step == SignUpStep::check) {
      fill_check(data, faults);
    } else {
      fill_progress(data, step);
      fill_step(data,
                StepPage{step, companion_, typed_, asked_, consent_, std::move(faults), say_});
    }
    HttpAnswer answer =
        visit_.site.show(visit_,
                         step == SignUpStep::check ? "friends/check" : "friends/step",
                         wrong ? visit_.say("friends", "error.prefix", {{"title", title}}) : title,
                         data,
                         wrong ? 422 : 200);
    // "Back" in the browser shows a page again as it was, so these may be kept for that one use.
    answer.headers.emplace_back("Cache-Control", "private, no-cache");
    return answer;
  }

  [[nodiscard]] std::string title_of(SignUpStep step) const {
    if (step == SignUpStep::check && !keeper_.before().name.empty()) {
      return visit_.say("friends", "check.title_change");
    }
    return visit_.say("friends", std::string(name_of(step)) + ".title");
  }

  void fill_kept(ViewData& data, SignUpStep step) const {
    const std::string own = companion_field(companion_, "");
    for (const auto& [name, value] : typed_.list()) {
      bool asked_here = step_of_field(name) == step;
      if (step == SignUpStep::companion) {
        asked_here = name.starts_with(own) && !name.ends_with("_was");
      }
      if (!asked_here) data.add("KEPT").set("NAME", name).set("VALUE", value);
    }
  }

  static void fill_problem(ViewData& data, const std::vector<SignUpFault>& faults) {
    if (faults.empty()) return;
    ViewData& problem = data.add("PROBLEM");
    for (const SignUpFault& fault : faults) {
      problem.add("FAULT").set("AT", fault.field).set("WHAT", fault.text);
    }
  }

  void fill_tongues(ViewData& data) const { fill_languages(data, visit_, ""); }

  void fill_progress(ViewData& data, SignUpStep step) const {
    if (editing_) return;
    const SignUpStep shown = step == SignUpStep::companion ? SignUpStep::brings : step;
    std::int64_t all = 0;
    std::int64_t at = 0;
    ViewData& progress = data.add("PROGRESS");
    for (std::size_t i = 0; i < static_cast<std::size_t>(SignUpStep::check); ++i) {
      const auto one = static_cast<SignUpStep>(i);
      if (!is_asked(one, asked_, typed_)) continue;
      ++all;
      if (one <= shown) ++at;
      ViewData& bar = progress.add("BAR");
      if (one <= shown) bar.show("DONE");
    }
    progress.set("PROGRESS_WORDS", visit_.say("friends", "progress", {{"at", at}, {"of", all}}));
  }

  void fill_check(ViewData& data, const std::vector<SignUpFault>& faults) const {
    const SignUp sign_up = read().sign_up;
    for (const AnswerRow& row :
         answer_rows(sign_up, asked_, date_language(*state_->production, visit_.language), say_)) {
      ViewData& one = data.add("ROW");
      one.set("ROW_LABEL", row.label).set("ROW_STEP", name_of(row.step));
      if (row.value.empty()) {
        one.show("ROW_EMPTY");
      } else {
        one.add("ROW_GIVEN").set("ROW_VALUE", row.value);
      }
    }
    data.set("WORDS_TYPED", typed_.first("words"));
    for (const SignUpFault& fault : faults) data.add("WORDS_WRONG").set("WHAT", fault.text);
    const bool change = !keeper_.before().name.empty();
    data.show(change ? "CHANGING" : "NEW");
    if (!change && is_full(*state_)) data.show("FULL");
    data.set("TO", keeper_.address());
  }

  Visit& visit_;
  SignUpKeeper& keeper_;
  std::shared_ptr<const BookState> state_;
  SayFriends say_;
  SignUp before_;
  Asked asked_;
  std::string consent_;
  Date today_;
  TypedAnswers typed_;
  bool editing_ = false;
  std::size_t companion_ = 0;
};

}  // namespace

bool is_full(const BookState& state) {
  const auto most = read_settings(state.settings).most_people;
  if (!most) return false;
  // as Book::enter() counts: those who are in or new, with whom they bring
  std::size_t heads = 0;
  for (const auto& sign_up : state.sign_ups) {
    const bool counts =
        sign_up->state == SignUpState::fresh || sign_up->state == SignUpState::accepted;
    if (counts && sign_up->answer != Answer::no) heads += 1 + sign_up->brings.size();
  }
  return heads + 1 > static_cast<std::size_t>(*most);
}

HttpAnswer begin_flow(Visit& visit, SignUpKeeper& keeper, SignUpStep at) {
  return Flow(visit, keeper).begin(at);
}

HttpAnswer go_on_with_flow(Visit& visit, SignUpKeeper& keeper) {
  return Flow(visit, keeper).go_on();
}

}  // namespace gp
