#pragma once

#include "intake/people_index.h"
#include "model/production.h"
#include "text/fold.h"

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace gp {

/// What the cells about likes name: parts, jobs and people of a production; for people_merge.cpp
/// and for what is typed into pages.
class LikeNames {
 public:
  /// A word as `people[].likes` has it, or why it is none.
  struct Meant {
    std::string like;
    std::string why_not;
  };
  struct Read {
    Tags likes;
    std::vector<std::pair<std::string, std::string>> bad;  ///< text and why
  };

  /// Parts and jobs are gathered here; people are asked of the index each time.
  /// Cost: O(n log n) for n parts and calls for crew.
  LikeNames(const Production& production, const PeopleIndex& people);
  /// People alone: whom somebody would like to be with.
  explicit LikeNames(const PeopleIndex& people) : people_(people) {}

  /// An id or a job as it is written counts first; then names, whatever their case and accents,
  /// where they mean one thing alone.
  [[nodiscard]] Meant meant(const Production& production,
                            const std::string& text,
                            PersonId who) const;
  /// Parted by semicolons or line ends, and by commas what is no name with a comma in it ("Haddad,
  /// Noor"). Every word is among the likes or the bad, or named twice.
  [[nodiscard]] Read read(const Production& production, std::string_view cell, PersonId who) const;

 private:
  void add(const std::string& like, const std::string& name);

  const PeopleIndex& people_;
  Folding folding_;
  std::set<std::string, std::less<>> exact_;            ///< ids of parts, and jobs
  std::map<std::string, std::set<std::string>> named_;  ///< by folded name
};

}  // namespace gp
