// How many sign-ups a second the book acknowledges, against SQLite's own commits of one row on the
// same disk in the same run. Both with write-ahead log and full sync: an acknowledged sign-up
// survives a power cut.
//
//     book_commits [FOLDER] [SECONDS]
//
// Prints, for 1 thread and for 8, empty books and books of 1,000 people and 1,000 sign-ups:
// sign-ups a second, SQLite's commits a second, their ratio. The two take turns, a second each, so
// that a disk that grows slow slows both.

#include "store/book.h"
#include "support/temporary_folder.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <string>
#include <thread>
#include <vector>

#include <sqlite3.h>
#include <sys/resource.h>

namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point start) {
  return std::chrono::duration<double>(Clock::now() - start).count();
}

void must(bool right, const char* what) {
  if (right) return;
  std::fprintf(stderr, "book_commits: %s\n", what);
  std::exit(1);
}

/// SQLite alone: one connection, one row a commit.
class OneRow {
 public:
  explicit OneRow(const std::string& path) {
    must(sqlite3_open(path.c_str(), &database_) == SQLITE_OK, "cannot open");
    must(sqlite3_exec(database_,
                      "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;"
                      "CREATE TABLE rows (id INTEGER PRIMARY KEY, at INTEGER, text TEXT)",
                      nullptr,
                      nullptr,
                      nullptr) == SQLITE_OK,
         "cannot set up");
    must(sqlite3_prepare_v2(
             database_, "INSERT INTO rows (at, text) VALUES (?1, ?2)", -1, &insert_, nullptr) ==
             SQLITE_OK,
         "cannot prepare");
  }
  OneRow(const OneRow&) = delete;
  OneRow& operator=(const OneRow&) = delete;
  ~OneRow() {
    sqlite3_finalize(insert_);
    sqlite3_close(database_);
  }
  /// Commits a second.
  double run(double seconds) {
    const auto start = Clock::now();
    int count = 0;
    while (seconds_since(start) < seconds) {
      sqlite3_bind_int64(insert_, 1, count);
      sqlite3_bind_text(insert_, 2, "a row of a few words", -1, SQLITE_STATIC);
      must(sqlite3_step(insert_) == SQLITE_DONE, "cannot insert");
      sqlite3_reset(insert_);
      ++count;
    }
    return count / seconds_since(start);
  }

 private:
  sqlite3* database_ = nullptr;
  sqlite3_stmt* insert_ = nullptr;
};

gp::SignUp friendly(int number) {
  gp::SignUp sign_up;
  sign_up.name = "Friend Number " + std::to_string(number);
  sign_up.phone = "+353 1 496 0000";
  sign_up.language = "en";
  sign_up.can = {"paint", "dance"};
  sign_up.no = {"water"};
  sign_up.sizes = {{"head_cm", 57}};
  sign_up.food = "no nuts";
  sign_up.need_name = "Somebody";
  sign_up.need_phone = "+353 1 496 0001";
  sign_up.may_be_filmed = true;
  sign_up.consent_text = "I agree to be filmed and to be seen in the film.";
  return sign_up;
}

std::string production_of(int people) {
  std::string text =
      R"({"greasepaint":1,"title":"Bench","days":[{"date":"2027-04-17"}],"people":[)";
  for (int i = 0; i < people; ++i) {
    const std::string number = std::to_string(i);
    text += (i > 0 ? "," : "") + std::string(R"({"id":"p)") + number + R"(","name":"Person )" +
            number + R"(","phone":"+353 1 496 0000","can":["paint","dance"],"no":["water"],)" +
            R"("free":["2027-04-17 09:00-13:00"],"sizes":{"head_cm":57},"food":"no nuts"})";
  }
  return text + R"(],"scenes":[{"id":"one","name":"One","shoot_minutes":10}]})";
}

std::atomic<int> next_number{0};

double enter_for(gp::Book& book, int threads, double seconds) {
  std::atomic<int> count{0};
  const auto start = Clock::now();
  const auto work = [&] {
    while (seconds_since(start) < seconds) {
      const int number = ++next_number;
      const std::string key = "form-" + std::to_string(number);
      const auto result = book.enter(friendly(number), key, "link-" + key, 1'800'000'000 + number);
      must(std::holds_alternative<gp::Book::Entered>(result), "refused");
      ++count;
    }
  };
  std::vector<std::thread> others;
  for (int i = 1; i < threads; ++i) others.emplace_back(work);
  work();
  for (std::thread& other : others) other.join();
  return count / seconds_since(start);
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

void measure(const std::string& folder, int people, int threads, double seconds) {
  const std::string stem =
      folder + "/bench-" + std::to_string(people) + "-" + std::to_string(threads);
  must(gp::Book::make(stem + ".book", production_of(people), 1).empty(), "faults");
  auto book = std::make_unique<gp::Book>(stem + ".book");
  for (int i = 0; i < people; ++i) (void)book->enter(friendly(i), {}, {}, 1'700'000'000 + i);
  OneRow alone(stem + ".sqlite");
  std::vector<double> ours;
  std::vector<double> theirs;
  std::vector<double> ratios;
  const int rounds = std::max(3, static_cast<int>(seconds));
  for (int round = 0; round < rounds; ++round) {
    // a book that grows and grows would be another book at the end
    theirs.push_back(alone.run(1.0));
    ours.push_back(enter_for(*book, threads, 1.0));
    ratios.push_back(ours.back() / theirs.back());
  }
  std::printf(
      "%5d people and sign-ups at first, %2d thread%s: %7.0f sign-ups/s, SQLite %7.0f "
      "commits/s, ratio %.2f (median of %d; %.2f to %.2f); %zu sign-ups at the end\n",
      people,
      threads,
      threads == 1 ? " " : "s",
      median(ours),
      median(theirs),
      median(ratios),
      rounds,
      *std::min_element(ratios.begin(), ratios.end()),
      *std::max_element(ratios.begin(), ratios.end()),
      book->state()->sign_ups.size());
  std::fflush(stdout);
}

}  // namespace

int main(int argc, char** argv) {
  const gp::test::TemporaryFolder temporary;
  const std::string folder = argc > 1 ? argv[1] : temporary.path().string();
  const double seconds = argc > 2 ? std::atof(argv[2]) : 5.0;
  for (const int people : {0, 1000}) {
    for (const int threads : {1, 8, 64}) measure(folder, people, threads, seconds);
  }
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  std::printf("most memory held: %ld KiB\n", usage.ru_maxrss);
  return 0;
}
