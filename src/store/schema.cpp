#include "store/schema.h"

namespace gp {
namespace {

constexpr const char* kFirstStep = R"sql(
-- the newest of each document, as JSON
CREATE TABLE documents (
  name TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- one row a change; edits: [{"document", "patch", "inverse"}, ...], JSON Patches (RFC 6902)
CREATE TABLE history (
  revision INTEGER PRIMARY KEY NOT NULL,
  at INTEGER NOT NULL,
  who TEXT NOT NULL,
  why TEXT NOT NULL,
  undoes INTEGER,
  documents TEXT NOT NULL, -- their names, a line end after each
  edits TEXT NOT NULL
) STRICT;

CREATE TABLE form_keys (
  key TEXT PRIMARY KEY NOT NULL, -- SHA-256
  sign_up TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE links (
  hash TEXT PRIMARY KEY NOT NULL, -- SHA-256 of the secret
  sign_up TEXT NOT NULL,
  at INTEGER NOT NULL,
  revoked INTEGER -- when
) STRICT, WITHOUT ROWID;

CREATE TABLE plans (
  number INTEGER PRIMARY KEY NOT NULL,
  made_from INTEGER NOT NULL, -- revision
  production_sha TEXT NOT NULL,
  at INTEGER NOT NULL,
  json TEXT NOT NULL
) STRICT;

CREATE TABLE told (
  number INTEGER PRIMARY KEY NOT NULL,
  person TEXT NOT NULL,
  day TEXT NOT NULL,
  call TEXT NOT NULL,
  plan INTEGER NOT NULL,
  how TEXT NOT NULL,
  at INTEGER NOT NULL,
  UNIQUE (person, day, call, plan, how)
) STRICT;

CREATE TABLE secrets (
  name TEXT PRIMARY KEY NOT NULL,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
)sql";

std::int64_t version_of(Database& database) {
  return std::stoll(database.ask("PRAGMA user_version"));
}

}  // namespace

const std::vector<const char*>& schema_steps() {
  static const std::vector<const char*> steps = {kFirstStep};
  return steps;
}

bool needs_steps(Database& database, const std::vector<const char*>& steps) {
  if (std::stoll(database.ask("PRAGMA application_id")) != kBookApplicationId) {
    throw WorldError(database.path() +
                     " is no book; `greasepaint open FILE.json` makes one from a production file: "
                     "it is an SQLite file of another program");
  }
  const std::int64_t version = version_of(database);
  const auto ours = static_cast<std::int64_t>(steps.size());
  if (version > ours) {
    throw WorldError("the book " + database.path() +
                     " was made by a newer greasepaint; install that one to open it: the book is "
                     "of version " +
                     std::to_string(version) + ", this program knows up to " +
                     std::to_string(ours));
  }
  return version < ours;
}

void bring_up_to_date(Database& database, const std::vector<const char*>& steps) {
  Transaction transaction(database, "BEGIN IMMEDIATE");
  if (!needs_steps(database, steps)) return;
  for (auto done = static_cast<std::size_t>(version_of(database)); done < steps.size(); ++done) {
    database.run(steps[done]);
  }
  database.run(("PRAGMA user_version = " + std::to_string(steps.size())).c_str());
  transaction.commit();
}

}  // namespace gp
