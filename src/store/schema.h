#pragma once

#include "store/database.h"

#include <string>
#include <vector>

namespace gp {

/// In the file's header, so that `file` and we know a book from other SQLite files: "gpbk".
inline constexpr std::int64_t kBookApplicationId = 0x6770626B;

/// The steps a book's tables went through, oldest first: step N makes version N of version N-1.
/// Steps are never changed once released, only followed.
const std::vector<const char*>& schema_steps();

/// Brings the tables from the file's version (0: empty) to that of `steps`, in one transaction.
/// \throws WorldError  no book, or one of a newer version
void bring_up_to_date(Database& database, const std::vector<const char*>& steps);
/// Whether bring_up_to_date() would write. \throws WorldError  as above
bool needs_steps(Database& database, const std::vector<const char*>& steps);

}  // namespace gp
