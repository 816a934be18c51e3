#pragma once

#include "explain/conflict/alone.h"
#include "model/production.h"

#include <functional>
#include <string>
#include <vector>

namespace gp::conflict {

/// One thing that people wrote and that may stand in the way.
struct Fact {
  std::string path;   ///< in the production file: "people[3].free[0]"; days in order of date
  std::string words;  ///< what it is: "Noor is free until 17:00"
  /// As if it were not so, and wholly: never makes less possible.
  std::function<void(Production&)> relax;
  std::string wholly;  ///< "if Noor could stay as long as needed"
  /// Loosened by degrees, 1 .. most (minutes, heads or things); most 0: it has none.
  int most = 0;
  std::function<void(Production&, int)> loosen;
  std::function<std::string(int)> change;  ///< "if Noor could stay until 17:25 instead of 17:00"
  bool steady = true;  ///< what a degree makes possible every greater one does too
};

/// What all makers of facts need.
struct FactGround {
  const Production* film;  ///< with the question's scene as its only one
  Question question;
  Terms terms;
  std::size_t scene_number;  ///< of the scene in the production file

  [[nodiscard]] const Scene& scene() const { return film->scenes[question.scene]; }
  [[nodiscard]] std::vector<DayId> days() const;
  /// " on 2027-04-17" where more than one day may be meant.
  [[nodiscard]] std::string on(DayId day) const;
  [[nodiscard]] std::string scene_path(const std::string& key) const;
};

/// Every fact that bears on the question, the scene's first.
std::vector<Fact> facts_of(const FactGround& ground);

void add_scene_facts(const FactGround& ground, std::vector<Fact>& facts);
void add_day_facts(const FactGround& ground, std::vector<Fact>& facts);
void add_people_facts(const FactGround& ground, std::vector<Fact>& facts);
void add_look_facts(const FactGround& ground, std::vector<Fact>& facts);
void add_place_facts(const FactGround& ground, std::vector<Fact>& facts);

/// "1 minute", "35 minutes".
std::string minutes_text(std::int64_t minutes);
/// "people" and 3: "people[3]".
std::string entry_path(const std::string& list, std::size_t number);
/// A path's next key.
std::string key_path(const std::string& path, const std::string& key);

}  // namespace gp::conflict
