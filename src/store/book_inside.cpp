#include "store/book_inside.h"

#include "base/sha256.h"
#include "store/schema.h"

#include <cerrno>
#include <system_error>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace gp {
namespace {

[[noreturn]] void no_book(const std::string& path, const std::string& cause) {
  throw WorldError(
      path +
      " is no book; `greasepaint open FILE.json` makes one from a production file: " + cause);
}

/// What can be said of the file before SQLite looks at it. \return whether it may be written
bool look_at_file(const std::string& path) {
  struct stat there {};
  if (::stat(path.c_str(), &there) != 0) {
    const int cause = errno;
    throw WorldError("cannot open the book " + path +
                     "; check the path, or make a book with `greasepaint open FILE.json`: " +
                     std::generic_category().message(cause));
  }
  if (!S_ISREG(there.st_mode)) no_book(path, "it is no file");
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (file < 0) {
    const int cause = errno;
    throw WorldError("cannot open the book " + path +
                     "; change its permissions: " + std::generic_category().message(cause));
  }
  std::string first(16, '\0');
  const ssize_t got = ::read(file, first.data(), first.size());
  ::close(file);
  first.resize(got > 0 ? static_cast<std::size_t>(got) : 0);
  if (!Book::looks_like_book(first)) {
    no_book(path, first.empty() ? "it is empty" : "it begins with other bytes");
  }
  return ::access(path.c_str(), W_OK) == 0;
}

bool has_unmerged_changes(const std::string& path) {
  struct stat there {};
  return ::stat((path + "-wal").c_str(), &there) == 0 && there.st_size > 0;
}

/// A connection to a file that may only be read. The folder may be so too, and then the helper
/// files of WAL cannot be made: the file is read as it is, where it is whole without them.
std::unique_ptr<Database> open_to_read(const std::string& path,
                                       std::chrono::milliseconds patience) {
  auto database = std::make_unique<Database>(path, Database::Mode::read_only, patience);
  try {
    database->ask("PRAGMA schema_version");
    return database;
  } catch (const DatabaseError& error) {
    using Cause = DatabaseError::Cause;
    if (error.cause() != Cause::read_only && error.cause() != Cause::other) throw;
    if (has_unmerged_changes(path)) throw;
  }
  return std::make_unique<Database>(path, Database::Mode::unchanging, patience);
}

void check_whole(Database& database) {
  const std::string answer = database.ask("PRAGMA quick_check(1)");
  if (answer == "ok") return;
  throw DatabaseError(DatabaseError::Cause::damaged,
                      "the book " + database.path() +
                          " is damaged; leave the file as it is, make a copy of it, and go on "
                          "with your newest whole copy: " +
                          answer);
}

void set_up(Database& database) {
  // a commit is acknowledged when its bytes lie on the disk:
  // sqlite.org/pragma.html#pragma_synchronous
  database.run("PRAGMA synchronous = FULL");
  database.run("PRAGMA secure_delete = ON");
  database.run("PRAGMA trusted_schema = OFF");
  database.run("PRAGMA cell_size_check = ON");
  database.run("PRAGMA cache_size = -8192");  // [KiB] a book of a thousand people stays in memory
}

/// Whether the database holds nothing newer.
bool is_newest(Database& database, const NewestState& known) {
  Using row =
      database.use("SELECT (SELECT max(revision) FROM history), (SELECT max(number) FROM plans)");
  row->step();
  const auto& plan = known.head.plan;
  return row->whole(0) <= known.head.revision &&
         row->whole(1) <= (plan == nullptr ? 0 : plan->number);
}

}  // namespace

std::string link_hash(std::string_view link) {
  return sha256(link);
}

Book::Inside::Inside(const std::string& path, std::chrono::milliseconds patience) {
  if (look_at_file(path)) {
    auto database = std::make_unique<Database>(path, Database::Mode::read_write, patience);
    if (needs_steps(*database, schema_steps())) bring_up_to_date(*database, schema_steps());
    check_whole(*database);
    if (database->ask("PRAGMA journal_mode = WAL") != "wal") {
      throw WorldError("cannot use the book " + path +
                       " there; copy it to a disk of this machine: the place does not allow a "
                       "write-ahead log");
    }
    set_up(*database);
    writer_ = std::move(database);
    reader_ = std::make_unique<Database>(path, Database::Mode::read_write, patience);
  } else {
    reader_ = open_to_read(path, patience);
    if (needs_steps(*reader_, schema_steps())) {
      throw WorldError("the book " + path +
                       " was made by an older greasepaint and must be brought up to date; make "
                       "the file writable");
    }
    check_whole(*reader_);
  }
  version_seen_ = reader_->ask("PRAGMA data_version");
  newest_ = std::make_shared<const NewestState>(
      read([](Database& database) { return load_state(database, nullptr); }));
}

std::shared_ptr<const NewestState> Book::Inside::newest() {
  const std::lock_guard<std::mutex> lock(newest_mutex_);
  return newest_;
}

void Book::Inside::publish(std::shared_ptr<const NewestState> state) {
  const auto place = [](const NewestState& one) {
    const BookState& head = one.head;
    return std::pair(head.revision, head.plan == nullptr ? 0 : head.plan->number);
  };
  const std::lock_guard<std::mutex> lock(newest_mutex_);
  if (place(*newest_) <= place(*state)) newest_ = std::move(state);
}

std::shared_ptr<const BookState> Book::Inside::state() {
  const std::lock_guard<std::mutex> lock(reading_mutex_);
  std::string version;
  {
    Using row = reader_->use("PRAGMA data_version");
    row->step();
    version = row->text(0);
  }
  if (version != version_seen_) {
    Transaction transaction(*reader_, "BEGIN");
    const auto known = newest();
    if (!is_newest(*reader_, *known)) {
      publish(std::make_shared<const NewestState>(load_state(*reader_, known->whole())));
    }
    version_seen_ = version;
  }
  const auto now = newest();
  if (now->is_whole()) return now->whole();
  const auto whole = now->whole();
  // put together once, for all who ask from now on
  publish(std::make_shared<const NewestState>(whole));
  return whole;
}

void Book::Inside::write(const std::function<void(BookDraft&)>& work) {
  Job job;
  job.work = &work;
  std::unique_lock<std::mutex> lock(queue_mutex_);
  queue_.push_back(&job);
  job.ready.wait(lock, [&] { return job.done || !writing_; });
  if (!job.done) {
    writing_ = true;
    const std::vector<Job*> batch = std::exchange(queue_, {});
    lock.unlock();
    keep(batch);
    lock.lock();
    writing_ = false;
    for (Job* other : batch) {
      other->done = true;
      if (other != &job) other->ready.notify_one();
    }
    if (!queue_.empty()) queue_.front()->ready.notify_one();
  }
  lock.unlock();
  if (job.error) std::rethrow_exception(job.error);
}

void Book::Inside::keep(const std::vector<Job*>& batch) {
  try {
    keep_together(batch);
    return;
  } catch (const DatabaseError& error) {
    if (batch.size() == 1 || error.cause() == DatabaseError::Cause::locked) {
      for (Job* job : batch) job->error = std::current_exception();
      return;
    }
  } catch (...) {
    if (batch.size() == 1) {
      batch.front()->error = std::current_exception();
      return;
    }
  }
  // one of them failed, and none is kept: each alone, so that only the guilty one is told
  for (Job* job : batch) keep({job});
}

void Book::Inside::keep_together(const std::vector<Job*>& batch) {
  if (writer_ == nullptr) {
    throw DatabaseError(DatabaseError::Cause::read_only,
                        "the book " + reader_->path() +
                            " may be read but not changed; change the permissions of the file and "
                            "its folder, or copy it to a place of your own");
  }
  Transaction transaction(*writer_, "BEGIN IMMEDIATE");
  const auto known = newest();
  BookDraft draft{*writer_, *known};
  // another process was here
  if (!is_newest(*writer_, *known)) draft.state = NewestState(load_state(*writer_, known->whole()));
  for (Job* job : batch) (*job->work)(draft);
  transaction.commit();
  if (draft.changed) publish(std::make_shared<const NewestState>(std::move(draft.state)));
}

std::vector<Document> Book::Inside::inverses(const std::string& document,
                                             Revision after,
                                             Revision until) {
  return read([&](Database& database) { return load_inverses(database, document, after, until); });
}

void Book::Inside::tell(Revision revision) {
  std::function<void(Revision)> told;
  {
    const std::lock_guard<std::mutex> lock(told_mutex_);
    told = told_;
  }
  if (told) told(revision);
}

void Book::Inside::on_change(std::function<void(Revision)> told) {
  const std::lock_guard<std::mutex> lock(told_mutex_);
  told_ = std::move(told);
}

}  // namespace gp
