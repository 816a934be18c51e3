#include "store/book_inside.h"
#include "store/change_work.h"

#include <algorithm>

namespace gp {
namespace {

std::size_t heads_of(const SignUp* sign_up) {
  if (sign_up == nullptr || sign_up->answer == Answer::no) return 0;
  const bool counts =
      sign_up->state == SignUpState::fresh || sign_up->state == SignUpState::accepted;
  return counts ? 1 + sign_up->brings.size() : 0;
}

}  // namespace

NewestState::NewestState(std::shared_ptr<const BookState> base) : base_(std::move(base)) {
  head.revision = base_->revision;
  head.production_document = base_->production_document;
  head.production = base_->production;
  head.settings = base_->settings;
  head.settings_mark = base_->settings_mark;
  head.plan = base_->plan;
}

bool NewestState::is_whole() const {
  return since_.empty() && head.revision == base_->revision && head.plan == base_->plan;
}

std::shared_ptr<const BookState> NewestState::whole() const {
  if (is_whole()) return base_;
  BookState state = head;
  state.sign_ups.reserve(base_->sign_ups.size() + since_.size());
  state.sign_ups = base_->sign_ups;
  for (const SignUpStep& step : since_) {
    if (!step.is_new) take_sign_up(state, step.id);
    if (step.sign_up != nullptr) insert_sign_up(state, step.sign_up);
  }
  return std::make_shared<const BookState>(std::move(state));
}

std::shared_ptr<const SignUp> NewestState::sign_up(std::string_view id) const {
  for (auto step = since_.rbegin(); step != since_.rend(); ++step) {
    if (step->id == id) return step->sign_up;
  }
  return base_->sign_up(id);
}

void NewestState::put(SignUpStep step) {
  constexpr std::size_t kMostSince = 64;  // so that looking through them stays cheap
  if (heads_) {
    if (!step.is_new) *heads_ -= heads_of(sign_up(step.id).get());
    *heads_ += heads_of(step.sign_up.get());
  }
  since_.push_back(std::move(step));
  if (since_.size() <= kMostSince) return;
  base_ = whole();
  since_.clear();
}

std::size_t NewestState::heads() {
  if (!heads_) {
    heads_ = 0;
    const auto state = whole();  // held: a loop over a temporary's part would outlive it
    for (const auto& one : state->sign_ups) *heads_ += heads_of(one.get());
  }
  return *heads_;
}

}  // namespace gp
