#pragma once

#include "search/builder.h"
#include "search/problem.h"

#include <cstdint>
#include <string>
#include <vector>

namespace gp {

/// Words and numbers that every reason is made of. English: a reason is for the person who plans,
/// and is part of the plan file.
class ReasonWords {
 public:
  explicit ReasonWords(const Problem& problem) : problem_(problem), film_(problem.production) {}

  [[nodiscard]] std::string clock(std::size_t day, Minute moment) const;
  [[nodiscard]] std::string span(std::size_t day, Span span) const;
  /// " on 2027-04-17" where there is more than one day to mistake it for.
  [[nodiscard]] std::string on_date(std::size_t day) const;
  /// When a scene's shot may stand: "10:00-16:00 on 2027-04-17 or …".
  [[nodiscard]] std::string windows_of(SceneId scene) const;
  /// How those who are coming fall out: "of 12 who are coming, 7 lack dance and 2 will not
  /// (water)". \param role  whose look must fit; none: crew
  [[nodiscard]] std::string who_may_not(const Tags& needs,
                                        const Tags& tags,
                                        const std::vector<PersonId>* from,
                                        const Role* role = nullptr) const;
  /// All that a role asks a person to put up with in a scene.
  [[nodiscard]] Tags tags_for(const Role& role, SceneId scene) const;

 private:
  const Problem& problem_;
  const Production& film_;
};

/// "a, b and c".
std::string joined(const std::vector<std::string>& parts, const std::string& last_link);
/// "1 minute", "5 minutes".
std::string in_minutes(std::int64_t n);
/// "1 is", "3 are".
std::string are(std::int64_t n);

/// Why a scene is not filmed; why a role or job is short in one that is. One sentence each, never
/// empty.
std::string reason_for_scene(const Problem& problem, const Builder& builder, SceneId scene);
std::string reason_for_heads(const Problem& problem, Builder& builder, const Unfilled& row);

}  // namespace gp
