#pragma once

#include "model/plan.h"
#include "sheets/day_facts.h"
#include "store/book.h"
#include "text/words.h"

#include <memory>
#include <mutex>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// The newest plan, read once for all who look at it, with the production it was made from.
struct ReadPlan {
  std::shared_ptr<const KeptPlan> kept;
  std::shared_ptr<const Production> production;
  Plan plan;
  std::vector<std::unique_ptr<DayFacts>> days;  ///< one for each of `plan.days`

  /// None where the plan does not know the person.
  [[nodiscard]] PersonId person(std::string_view id) const;
};

/// Threads: any.
class PlanShelf {
 public:
  /// Null where there is no plan, or it cannot be read any more.
  std::shared_ptr<const ReadPlan> newest(Book& book, const BookState& state);

 private:
  std::mutex mutex_;
  std::shared_ptr<const ReadPlan> newest_;
};

/// The sentences of the printed slips and their cautions, for the pages. Threads: any.
class SlipWords {
 public:
  /// \param folder  holds en.json and its neighbours
  explicit SlipWords(std::string folder) : book_(std::move(folder)) {}

  std::string say(const std::string& language,
                  std::string_view key,
                  const std::vector<WordValue>& values = {});
  struct Caution {
    std::string name, text;
  };
  Caution caution(const std::string& language, const std::string& hazard);

 private:
  std::mutex mutex_;
  WordBook book_;
};

}  // namespace gp
