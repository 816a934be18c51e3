#include "store/database.h"

#include <new>
#include <utility>

#include <sqlite3.h>

namespace gp {
namespace {

using Cause = DatabaseError::Cause;

/// What SQLite's codes mean for whoever has the book. Source: sqlite.org/rescode.html.
Cause cause_of(int code) {
  switch (code & 0xFF) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
      return Cause::locked;
    case SQLITE_CORRUPT:
      return Cause::damaged;
    case SQLITE_NOTADB:
      return Cause::no_database;
    case SQLITE_READONLY:
      return Cause::read_only;
    case SQLITE_FULL:
      return Cause::full;
    default:
      return Cause::other;
  }
}

std::string words_for(Cause cause, const std::string& path) {
  switch (cause) {
    case Cause::locked:
      return "cannot use the book " + path +
             " now: another program holds it; close that program or try again in a moment";
    case Cause::damaged:
      return "the book " + path +
             " is damaged; leave the file as it is, make a copy of it, and go on with your newest "
             "whole copy";
    case Cause::no_database:
      return path + " is no book; `greasepaint open FILE.json` makes one from a production file";
    case Cause::read_only:
      return "the book " + path +
             " may be read but not changed; change the permissions of the file and its folder, or "
             "copy it to a place of your own";
    case Cause::full:
      return "cannot keep the change in " + path + ": the disk is full; make room and try again";
    case Cause::other:
      break;
  }
  return "cannot use the book " + path + "; check the disk and the permissions of its folder";
}

[[noreturn]] void fail(int code, sqlite3* database, const std::string& path) {
  if ((code & 0xFF) == SQLITE_NOMEM) throw std::bad_alloc();
  const Cause cause = cause_of(code);
  throw DatabaseError(cause,
                      words_for(cause, path) + ": " +
                          (database != nullptr ? sqlite3_errmsg(database) : sqlite3_errstr(code)));
}

/// A path as SQLite's URI has it. Source: sqlite.org/uri.html, section 3.1.
std::string uri_of(const std::string& path, const char* query) {
  constexpr std::string_view kHex = "0123456789ABCDEF";
  std::string uri = path.starts_with('/') ? "file://" : "file:";
  for (const char c : path) {
    if (c == '%' || c == '?' || c == '#') {
      const auto byte = static_cast<unsigned char>(c);
      uri += '%';
      uri += kHex[byte >> 4U];
      uri += kHex[byte & 0xFU];
    } else {
      uri += c;
    }
  }
  return uri + query;
}

}  // namespace

Statement::Statement(sqlite3_stmt* statement, const std::string& path)
    : statement_(statement), path_(path) {}

Statement::~Statement() {
  sqlite3_finalize(statement_);
}

Statement& Statement::bind(int place, std::int64_t value) {
  const int code = sqlite3_bind_int64(statement_, place, value);
  if (code != SQLITE_OK) fail(code, sqlite3_db_handle(statement_), path_);
  return *this;
}

Statement& Statement::bind(int place, std::string_view text) {
  const int code =
      sqlite3_bind_text64(statement_,
                          place,
                          text.data() != nullptr ? text.data() : "",  // null would bind NULL
                          text.size(),
                          SQLITE_STATIC,
                          SQLITE_UTF8);
  if (code != SQLITE_OK) fail(code, sqlite3_db_handle(statement_), path_);
  return *this;
}

Statement& Statement::bind(int place, std::optional<std::int64_t> value) {
  if (value) return bind(place, *value);
  const int code = sqlite3_bind_null(statement_, place);
  if (code != SQLITE_OK) fail(code, sqlite3_db_handle(statement_), path_);
  return *this;
}

bool Statement::step() {
  const int code = sqlite3_step(statement_);
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  sqlite3* const database = sqlite3_db_handle(statement_);
  const int exact = sqlite3_extended_errcode(database);
  fail(exact != SQLITE_OK ? exact : code, database, path_);
}

void Statement::run() {
  while (step()) {
  }
  reset();
}

void Statement::reset() {
  sqlite3_reset(statement_);  // tells the last step's error again; that was thrown already
  sqlite3_clear_bindings(statement_);
}

std::int64_t Statement::whole(int column) const {
  return sqlite3_column_int64(statement_, column);
}

std::optional<std::int64_t> Statement::maybe_whole(int column) const {
  if (sqlite3_column_type(statement_, column) == SQLITE_NULL) return std::nullopt;
  return whole(column);
}

std::string Statement::text(int column) const {
  // the bytes are those written: SQLite does not look into them
  const void* const bytes = sqlite3_column_blob(statement_, column);
  const int size = sqlite3_column_bytes(statement_, column);
  if (bytes == nullptr) return {};
  return {static_cast<const char*>(bytes), static_cast<std::size_t>(size)};
}

Database::Database(const std::string& path, Mode mode, std::chrono::milliseconds patience)
    : path_(path) {
  const int flags = SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_URI | SQLITE_OPEN_EXRESCODE |
                    (mode == Mode::read_write ? SQLITE_OPEN_READWRITE : SQLITE_OPEN_READONLY);
  const std::string uri = uri_of(path, mode == Mode::unchanging ? "?immutable=1" : "");
  const int code = sqlite3_open_v2(uri.c_str(), &database_, flags, nullptr);
  if (code != SQLITE_OK) {
    const std::unique_ptr<sqlite3, decltype(&sqlite3_close)> closing(database_, sqlite3_close);
    fail(code, database_, path_);
  }
  sqlite3_busy_timeout(database_, static_cast<int>(patience.count()));
}

Database::~Database() {
  kept_.clear();
  sqlite3_close(database_);
}

Using Database::use(const char* sql) {
  std::unique_ptr<Statement>& kept = kept_[sql];
  if (kept == nullptr) {
    sqlite3_stmt* statement = nullptr;
    const int code =
        sqlite3_prepare_v3(database_, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement, nullptr);
    if (code != SQLITE_OK) fail(code, database_, path_);
    kept = std::make_unique<Statement>(statement, path_);
  }
  return Using(*kept);
}

void Database::run(const char* sql) {
  const int code = sqlite3_exec(database_, sql, nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) fail(code, database_, path_);
}

std::string Database::ask(const char* sql) {
  sqlite3_stmt* statement = nullptr;
  const int code = sqlite3_prepare_v2(database_, sql, -1, &statement, nullptr);
  if (code != SQLITE_OK) fail(code, database_, path_);
  Statement once(statement, path_);
  return once.step() ? once.text(0) : std::string();
}

bool Database::read_only() const {
  return sqlite3_db_readonly(database_, "main") == 1;
}

Transaction::Transaction(Database& database, const char* begin) : database_(database) {
  database_.run(begin);
}

Transaction::~Transaction() {
  if (!open_) return;
  try {
    database_.run("ROLLBACK");
  } catch (const std::exception&) {
    // SQLite has rolled back already (a full disk does that), or will when the file is opened next
  }
}

void Transaction::commit() {
  database_.run("COMMIT");
  open_ = false;
}

}  // namespace gp
