#pragma once

#include "intake/csv.h"
#include "model/production.h"

#include <cstddef>
#include <string>
#include <vector>

// What has been read of a list of people, before it meets the production.

namespace gp {

/// A text of the file that is not taken over. Nothing that was read is dropped without one.
struct LeftOut {
  std::string file;
  std::size_t line = 0;
  std::string who;    ///< the name or id in that row or card
  std::string field;  ///< the column's header or the card's property
  std::string text;
  std::string why;
  bool operator==(const LeftOut&) const = default;
};

/// One row or one card.
struct IncomingPerson {
  std::string file;
  std::size_t line = 0;
  Person person;             ///< its id may be empty; it has no guardian and no likes
  std::string guardian;      ///< as written: an id or a name
  std::string likes;         ///< as written: parts, jobs and people, by id or name
  bool answer_said = false;  ///< the file itself says the answer
  bool weight_said = false;
};

/// What reading a list gave.
struct IncomingPeople {
  std::vector<IncomingPerson> people;
  std::vector<LeftOut> left_out;
  std::vector<BadLine> bad;
};

}  // namespace gp
