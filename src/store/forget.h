#pragma once

#include "store/book.h"

#include <string>
#include <vector>

namespace gp {

/// What was removed and the proof.
struct Forgotten {
  std::size_t people = 0;            ///< whose data was touched
  std::size_t values = 0;            ///< texts removed
  std::vector<std::string> left;     ///< removed texts still found in the file's bytes: empty
  std::vector<std::string> remarks;  ///< e.g. texts too short to be searched for
};

/// Removes what is private of everybody (answers about food and skin, contacts, sizes, birth dates,
/// consents, notices, free words), from the documents, the whole history and the plans, then
/// rewrites the file and looks through its bytes (book, -wal, -shm). Names stay, to be thanked by.
/// \throws WorldError  another process has the book open, or the disk failed; nothing is lost
Forgotten forget_private(const std::string& path, UnixTime at);

/// Removes one person altogether, the name included: in documents, history, plans, told. Where the
/// production names them (a part fixed to them), a nameless person stands in with the answer "no".
/// \param who  id of a person or of a sign-up
Forgotten forget_person(const std::string& path, const std::string& who, UnixTime at);

}  // namespace gp
