#pragma once

#include "store/book.h"
#include "store/database.h"

#include <condition_variable>
#include <exception>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace gp {

/// One row of the history with what takes it back.
struct HistoryRow {
  HistoryEntry entry;
  std::vector<Edit> inverse;
};

/// One sign-up put in, brought up to date or (null) taken out.
struct SignUpStep {
  std::string id;
  std::shared_ptr<const SignUp> sign_up;
  bool is_new = false;  ///< there was none of that id
};

/// The newest state in a form that a sign-up changes at the same cost however many there are: the
/// last state that was asked for, and what has come since.
class NewestState {
 public:
  explicit NewestState(std::shared_ptr<const BookState> base);

  /// Everything but the sign-ups.
  BookState head;
  /// The state as others see it. Cost: O(n), but nothing where no sign-up has come since.
  [[nodiscard]] std::shared_ptr<const BookState> whole() const;
  [[nodiscard]] bool is_whole() const;
  [[nodiscard]] std::shared_ptr<const SignUp> sign_up(std::string_view id) const;
  void put(SignUpStep step);
  /// People who come by their sign-ups, with those they bring. Counted once, then kept up to date.
  std::size_t heads();

 private:
  std::shared_ptr<const BookState> base_;
  std::vector<SignUpStep> since_;
  std::optional<std::size_t> heads_;
};

/// What a job may use while its batch is being written.
struct BookDraft {
  Database& database;
  NewestState state;  ///< becomes the newest one when the batch is kept
  bool changed = false;
};

/// The book's two connections and its newest state.
///
/// Writing: a thread that has something to keep puts a job into the queue. Where nobody writes, it
/// takes the whole queue and keeps it in one transaction; where somebody does, it waits, and finds
/// its job done or the queue left to it. So a lonely writer waits for no other thread, and many
/// share one sync of the disk. Order of locks: queue, or reading then newest; never two others.
class Book::Inside {
 public:
  Inside(const std::string& path, std::chrono::milliseconds patience);

  std::shared_ptr<const BookState> state();
  /// Runs `look(database)` inside one read transaction.
  template <class Look>
  auto read(Look look) {
    const std::lock_guard<std::mutex> lock(reading_mutex_);
    Transaction transaction(*reader_, "BEGIN");
    return look(*reader_);
  }
  /// Runs `work(draft)` inside a write transaction that others may share, and returns when it lies
  /// safely on the disk. The work may be run again where its batch failed.
  /// \throws WorldError  nothing of it is kept
  void write(const std::function<void(BookDraft&)>& work);

  std::variant<Kept, Refusal> change(const Change& change);
  std::variant<Entered, Refusal> enter(SignUp sign_up,
                                       const std::string& form_key,
                                       const std::string& link,
                                       UnixTime at);
  /// See InverseSource.
  std::vector<Document> inverses(const std::string& document, Revision after, Revision until);
  void tell(Revision revision);
  void on_change(std::function<void(Revision)> told);

 private:
  struct Job {
    const std::function<void(BookDraft&)>* work = nullptr;
    std::exception_ptr error;
    bool done = false;
    std::condition_variable ready;
  };
  void open(const std::string& path, std::chrono::milliseconds patience);
  void keep(const std::vector<Job*>& batch);
  void keep_together(const std::vector<Job*>& batch);
  std::shared_ptr<const NewestState> newest();
  void publish(std::shared_ptr<const NewestState> state);

  std::unique_ptr<Database> writer_;  ///< null: the file is read-only
  std::unique_ptr<Database> reader_;
  std::mutex reading_mutex_;
  std::string version_seen_;  ///< of the file's data, as reader_ saw it

  std::mutex newest_mutex_;
  std::shared_ptr<const NewestState> newest_;

  std::mutex queue_mutex_;
  std::vector<Job*> queue_;
  bool writing_ = false;

  std::mutex told_mutex_;
  std::function<void(Revision)> told_;
};

/// The state as the database has it; where `known` is an earlier one, only what changed since is
/// read. Inside a transaction.
std::shared_ptr<const BookState> load_state(Database& database,
                                            const std::shared_ptr<const BookState>& known);
/// See InverseSource. Inside a transaction.
std::vector<Document> load_inverses(Database& database,
                                    const std::string& document,
                                    Revision after,
                                    Revision until);
/// A row of the history; none: there is no such revision.
std::optional<HistoryRow> load_row(Database& database, Revision revision);
/// JSON that the book itself has written. \throws WorldError  it is damaged
Document kept_document(const Database& database, const std::string& text);
std::string link_hash(std::string_view link);

}  // namespace gp
