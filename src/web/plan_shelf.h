#pragma once

#include "model/plan.h"
#include "sheets/day_facts.h"
#include "sheets/sheets.h"
#include "store/book.h"

#include <cstdint>
#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// A kept plan, read once for all who look at it, with the production it was made from.
struct ReadPlan {
  std::shared_ptr<const KeptPlan> kept;
  std::shared_ptr<const Production> production;
  /// False: the revision it was made from is gone (everything private was forgotten since), and
  /// `production` is the newest.
  bool as_made = true;
  Plan plan;
  std::vector<std::unique_ptr<DayFacts>> days;  ///< one for each of `plan.days`

  /// None where the plan does not know the person.
  [[nodiscard]] PersonId person(std::string_view id) const;
};

/// The plans of one book as the pages look at them: reading a large one, or printing its sheets,
/// takes a while, so the last are kept. Threads: any.
class PlanShelf {
 public:
  /// \param templates_dir  of the sheets
  PlanShelf(Book& book, std::string templates_dir)
      : book_(book), templates_dir_(std::move(templates_dir)) {}

  /// Null where there is no plan, or it cannot be read any more.
  std::shared_ptr<const ReadPlan> newest();
  std::shared_ptr<const ReadPlan> numbered(std::int64_t number);
  /// The printed sheets of a plan. \throws WorldError  no fonts
  std::shared_ptr<const Sheets> sheets(const ReadPlan& plan);

 private:
  std::shared_ptr<const ReadPlan> read(const std::shared_ptr<const KeptPlan>& kept);

  Book& book_;
  std::string templates_dir_;
  std::mutex mutex_;
  std::shared_ptr<const ReadPlan> newest_, older_;
  std::mutex printing_;
  std::shared_ptr<const KeptPlan> printed_;  ///< what `sheets_` were made of
  std::shared_ptr<const Sheets> sheets_;
};

}  // namespace gp
