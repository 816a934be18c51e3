#pragma once

#include "intake/people_columns.h"
#include "intake/shots.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

// A file of people or of shots, from its bytes on.

namespace gp {

/// A list of a hundred thousand people with pictures is smaller.
inline constexpr std::size_t kMostListBytes = std::size_t{128} * 1024 * 1024;

/// What the user says about a list; empty or `guess`: the file is asked.
struct ListWishes {
  std::string encoding;
  std::optional<char> delimiter;
  HeaderRow header = HeaderRow::guess;
  std::vector<ColumnWish> columns;
};

/// How a list is written.
struct ListForm {
  std::string encoding;
  bool encoding_guessed = false;
  std::size_t broken = 0;  ///< characters that could not be read; U+FFFD stands there
  bool table = false;      ///< CSV; else cards or a plain text
  char delimiter = ',';
};

struct PeopleList {
  ListForm form;
  PeopleColumns columns;     ///< of a table
  std::size_t entries = 0;   ///< rows below the header, or cards
  std::size_t pictures = 0;  ///< ignored
  IncomingPeople people;
  std::vector<std::string> faults;  ///< why nothing can be taken over; empty: it can
};

/// Address cards or a table: the first words say which.
/// \param name  of the file, for what is told
PeopleList read_people_list(std::string_view bytes,
                            const std::string& name,
                            const ListWishes& wishes);

struct ShotsList {
  ListForm form;
  ShotsRead read;
  std::vector<std::string> faults;
};

/// A table where the first row names at least two columns of shots, or the file's name ends in .csv
/// or .tsv; else a text with a shot a line.
ShotsList read_shots_list(std::string_view bytes,
                          const std::string& name,
                          const ListWishes& wishes);

}  // namespace gp
