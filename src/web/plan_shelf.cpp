#include "web/plan_shelf.h"

#include "base/errors.h"
#include "model/plan_json.h"

#include <utility>
#include <variant>

namespace gp {

PersonId ReadPlan::person(std::string_view id) const {
  for (const PersonId one : production->people.ids()) {
    if (production->people[one].id == id) return one;
  }
  return {};
}

std::shared_ptr<const ReadPlan> PlanShelf::read(const std::shared_ptr<const KeptPlan>& kept) {
  auto ready = std::make_shared<ReadPlan>();
  ready->kept = kept;
  try {
    ready->production = book_.state_at(kept->made_from)->production;
  } catch (const WorldError&) {
    ready->production = book_.state()->production;
    ready->as_made = false;
  }
  auto plan = read_plan(kept->json, *ready->production);
  if (!std::holds_alternative<Plan>(plan)) return nullptr;
  ready->plan = std::get<Plan>(std::move(plan));
  for (const DayPlan& day : ready->plan.days) {
    ready->days.push_back(std::make_unique<DayFacts>(*ready->production, day));
  }
  return ready;
}

std::shared_ptr<const ReadPlan> PlanShelf::newest() {
  const auto state = book_.state();
  if (state->plan == nullptr) return nullptr;
  const std::lock_guard<std::mutex> lock(mutex_);
  const bool same = newest_ != nullptr && newest_->kept->number == state->plan->number &&
                    newest_->kept->json == state->plan->json;
  if (!same) newest_ = read(state->plan);
  return newest_;
}

std::shared_ptr<const ReadPlan> PlanShelf::numbered(std::int64_t number) {
  const auto state = book_.state();
  if (state->plan != nullptr && state->plan->number == number) return newest();
  const std::lock_guard<std::mutex> lock(mutex_);
  if (older_ != nullptr && older_->kept->number == number) return older_;
  auto kept = book_.plan(number);
  if (!kept) return nullptr;
  older_ = read(std::make_shared<const KeptPlan>(*std::move(kept)));
  return older_;
}

std::shared_ptr<const Sheets> PlanShelf::sheets(const ReadPlan& plan) {
  const std::lock_guard<std::mutex> lock(printing_);
  if (sheets_ == nullptr || printed_ != plan.kept) {
    SheetWishes wishes;
    wishes.templates_dir = templates_dir_;
    sheets_ = std::make_shared<const Sheets>(make_sheets(*plan.production, plan.plan, wishes));
    printed_ = plan.kept;
  }
  return sheets_;
}

}  // namespace gp
