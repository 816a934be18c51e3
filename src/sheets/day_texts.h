#pragma once

#include "sheets/kit.h"

#include <string>
#include <vector>

namespace gp {

/// How much of a day its page says.
struct Density {
  enum class Who { names, crowds_counted, parts_only, numbers_only };
  enum class Calls { each, by_call, by_part, numbers_only };
  Who who = Who::names;
  Calls calls = Calls::each;
  double least = kLeastSize;  ///< smallest size at which this much is still said [points]
  bool brief = false;         ///< cautions in one phrase each
  bool cut = false;           ///< long texts and lists end early, and say so
};

/// A number to be seen from afar.
struct Figure {
  std::string label, value;
  bool main = false;
};
/// A short text with its label.
struct DayFact {
  std::string label;
  Rich text;
};
/// A scene, or a meal that everyone has together, in the order of the day.
struct SceneRow {
  std::string set_up, shot, until;
  Rich scene, where, who;
  bool meal = false;
};
struct CallRow {
  std::string time;
  Rich text;
};

/// The words of a day page, apart from where they stand on it.
class DayTexts {
 public:
  DayTexts(const DayFacts& facts, const Plan& plan, const Words& words)
      : facts_(facts), plan_(plan), words_(words) {}

  [[nodiscard]] std::vector<Figure> figures() const;
  [[nodiscard]] std::vector<DayFact> about() const;
  [[nodiscard]] std::vector<SceneRow> scenes(Density::Who who) const;
  /// \param all_named  set to whether everyone stands there by name
  [[nodiscard]] std::vector<CallRow> calls(Density::Calls calls, bool& all_named) const;
  [[nodiscard]] std::vector<Rich> cautions(bool brief) const;
  [[nodiscard]] std::vector<Rich> notes() const;

 private:
  [[nodiscard]] Rich who_of(const PlannedScene& scene, Density::Who who) const;
  [[nodiscard]] Rich names(const std::vector<PersonId>& people, Ink ink) const;
  [[nodiscard]] std::string people(std::size_t count) const;
  [[nodiscard]] CallRow one_call(const Stay& stay) const;
  [[nodiscard]] Rich call_by_part(const std::vector<const Stay*>& together,
                                  std::size_t named_up_to,
                                  bool with_parts,
                                  bool& all_named) const;

  const DayFacts& facts_;
  const Plan& plan_;
  const Words& words_;
};

}  // namespace gp
