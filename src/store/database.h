#pragma once

#include "base/errors.h"

#include <chrono>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

struct sqlite3;
struct sqlite3_stmt;

namespace gp {

/// The database said no, and why, as far as the book must tell the reasons apart.
class DatabaseError : public WorldError {
 public:
  enum class Cause { locked, damaged, no_database, read_only, full, other };
  DatabaseError(Cause cause, const std::string& text) : WorldError(text), cause_(cause) {}
  [[nodiscard]] Cause cause() const { return cause_; }

 private:
  Cause cause_;
};

/// One prepared statement. Values are bound from 1, columns counted from 0, as SQLite does.
/// Texts bound must live until the next reset().
class Statement {
 public:
  Statement(sqlite3_stmt* statement, const std::string& path);
  ~Statement();
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;

  Statement& bind(int place, std::int64_t value);
  Statement& bind(int place, std::string_view text);
  Statement& bind(int place, std::optional<std::int64_t> value);
  /// \return whether there is a row
  bool step();
  /// Runs to the end and is ready to be used again.
  void run();
  void reset();

  [[nodiscard]] std::int64_t whole(int column) const;
  [[nodiscard]] std::optional<std::int64_t> maybe_whole(int column) const;
  [[nodiscard]] std::string text(int column) const;

 private:
  sqlite3_stmt* statement_;
  std::string path_;
};

/// A statement that somebody is using; ready for the next one when it goes.
class Using {
 public:
  explicit Using(Statement& statement) : statement_(statement) {}
  ~Using() { statement_.reset(); }
  Using(const Using&) = delete;
  Using& operator=(const Using&) = delete;
  Statement* operator->() { return &statement_; }

 private:
  Statement& statement_;
};

/// One connection to an SQLite file. Threads: one at a time.
class Database {
 public:
  enum class Mode { read_write, read_only, unchanging };

  /// Opens a file that is there. `unchanging`: read without any lock or helper file.
  /// \param patience  how long to wait for another's lock
  Database(const std::string& path, Mode mode, std::chrono::milliseconds patience);
  ~Database();
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;

  /// A statement, prepared once and kept. \throws DatabaseError
  Using use(const char* sql);
  /// One or several statements without values.
  void run(const char* sql);
  /// The first value of the first row; empty where there is none.
  std::string ask(const char* sql);
  [[nodiscard]] bool read_only() const;
  [[nodiscard]] const std::string& path() const { return path_; }

 private:
  sqlite3* database_ = nullptr;
  std::string path_;
  std::map<const char*, std::unique_ptr<Statement>> kept_;  ///< by the literal's address
};

/// Rolls back unless committed.
class Transaction {
 public:
  /// \param begin  "BEGIN" to read one moment's book, "BEGIN IMMEDIATE" to write
  Transaction(Database& database, const char* begin);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  void commit();

 private:
  Database& database_;
  bool open_ = true;
};

}  // namespace gp
