#include "web/friends/plan_shelf.h"

#include "base/errors.h"
#include "model/plan_json.h"

namespace gp {
namespace {

std::shared_ptr<const ReadPlan> read_kept(Book& book,
                                          const BookState& state,
                                          const std::shared_ptr<const KeptPlan>& kept) {
  auto ready = std::make_shared<ReadPlan>();
  ready->kept = kept;
  ready->production = kept->made_from == state.revision
                          ? state.production
                          : book.state_at(kept->made_from)->production;
  auto read = read_plan(kept->json, *ready->production);
  if (std::holds_alternative<std::vector<Fault>>(read)) return nullptr;
  ready->plan = std::get<Plan>(std::move(read));
  for (const DayPlan& day : ready->plan.days) {
    ready->days.push_back(std::make_unique<DayFacts>(*ready->production, day));
  }
  return ready;
}

}  // namespace

PersonId ReadPlan::person(std::string_view id) const {
  for (const PersonId one : production->people.ids()) {
    if (production->people[one].id == id) return one;
  }
  return {};
}

std::shared_ptr<const ReadPlan> PlanShelf::newest(Book& book, const BookState& state) {
  if (state.plan == nullptr) return nullptr;
  const std::lock_guard<std::mutex> lock(mutex_);
  const bool same = newest_ != nullptr && newest_->kept->number == state.plan->number &&
                    newest_->kept->json == state.plan->json;
  if (same) return newest_;
  try {
    newest_ = read_kept(book, state, state.plan);
  } catch (const WorldError&) {
    newest_ = nullptr;  // its revision is gone: everything private was forgotten since
  }
  return newest_;
}

std::string SlipWords::say(const std::string& language,
                           std::string_view key,
                           const std::vector<WordValue>& values) {
  const std::lock_guard<std::mutex> lock(mutex_);
  return book_.in(language).say(key, values);
}

SlipWords::Caution SlipWords::caution(const std::string& language, const std::string& hazard) {
  const std::lock_guard<std::mutex> lock(mutex_);
  const Words& words = book_.in(language);
  const std::string key = "caution." + hazard;
  if (!words.has(key + ".brief")) return {hazard, words.say("caution.unknown")};
  return {words.say(key + ".name"), words.say(key + ".text")};
}

}  // namespace gp
