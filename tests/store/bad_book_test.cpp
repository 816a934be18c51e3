#include "base/errors.h"
#include "store/book.h"
#include "store/database.h"
#include "store/json_patch.h"
#include "store/schema.h"

#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>
#include <sstream>
#include <string>

#include "book_support.h"
#include <grp.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

// What stands in a book's place and is none, or cannot be used now: each is told with what to do,
// and nothing of it is lost.

namespace gp {
namespace {

using namespace test;

constexpr std::chrono::milliseconds kShort{30};
constexpr const char* kRename = R"([{"op":"replace","path":"/title","value":"Lamps"}])";

std::string bytes_of(const std::string& path) {
  std::ostringstream bytes;
  bytes << std::ifstream(path, std::ios::binary).rdbuf();
  return bytes.str();
}

void write_bytes(const std::string& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
}

/// What the world said, or nothing where it was silent.
std::string said(const std::function<void()>& act) {
  try {
    act();
  } catch (const WorldError& error) {
    return error.what();
  }
  return {};
}

std::string said_on_opening(const std::string& path) {
  return said([&] { const Book book(path, kShort); });
}

bool has(const std::string& text, const std::string& piece) {
  return text.find(piece) != std::string::npos;
}

/// Changes a book's file behind its back.
void meddle(const std::string& path, const char* sql) {
  Database database(path, Database::Mode::read_write, kShort);
  database.run(sql);
}

/// What `act` says, run in a process of its own; root becomes nobody there, who has to ask for
/// permission as everybody else does.
std::string said_as_nobody(const std::function<std::string()>& act) {
  int ends[2] = {-1, -1};
  REQUIRE(::pipe(ends) == 0);
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    constexpr uid_t kNobody = 65534;  // Debian Policy, section 9.2.2
    std::string answer = "could not become nobody";
    if (::geteuid() != 0 ||
        (::setgroups(0, nullptr) == 0 && ::setgid(kNobody) == 0 && ::setuid(kNobody) == 0)) {
      try {
        answer = act();
      } catch (const std::exception& error) {
        answer = std::string("thrown: ") + error.what();
      }
    }
    const ssize_t sent = ::write(ends[1], answer.data(), answer.size());
    ::_exit(sent == static_cast<ssize_t>(answer.size()) ? 0 : 1);
  }
  ::close(ends[1]);
  std::string answer;
  char piece[512];
  for (ssize_t got = 0; (got = ::read(ends[0], piece, sizeof piece)) > 0;) {
    answer.append(piece, static_cast<std::size_t>(got));
  }
  ::close(ends[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  CHECK(status == 0);
  return answer;
}

TEST_SUITE_BEGIN("store/bad_book");

TEST_CASE("a file that is no book is told how to get one, and stays as it is") {
  const TemporaryFolder folder;
  const std::string path = folder.file("lamp.book");
  for (const std::string& bytes : {std::string(),
                                   std::string("x"),
                                   std::string(kSmallFilm),
                                   std::string("SQLite format 3"),
                                   std::string(5000, '\0')}) {
    write_bytes(path, bytes);
    const std::string text = said_on_opening(path);
    INFO(text);
    CHECK(has(text, path + " is no book; `greasepaint open FILE.json` makes one"));
    CHECK(has(text, bytes.empty() ? "it is empty" : "it begins with other bytes"));
    CHECK(bytes_of(path) == bytes);
  }
}

TEST_CASE("a folder, and nothing at all, in the book's place are told apart") {
  const TemporaryFolder folder;
  CHECK(has(said_on_opening(folder.path().string()), "it is no file"));
  const std::string nowhere = folder.file("gone.book");
  const std::string text = said_on_opening(nowhere);
  CHECK(has(text, "cannot open the book " + nowhere + "; check the path, or make a book with"));
  CHECK(has(text, std::strerror(ENOENT)));
  CHECK(std::filesystem::is_empty(folder.path()));  // looking makes nothing
}

TEST_CASE("an SQLite file of another program is no book and is not touched") {
  const TemporaryFolder folder;
  const std::string path = folder.file("other.book");
  write_bytes(path, {});
  meddle(path, "CREATE TABLE birds (name TEXT); INSERT INTO birds VALUES ('wren')");
  const std::string before = bytes_of(path);
  const std::string text = said_on_opening(path);
  CHECK(has(text, path + " is no book; `greasepaint open FILE.json` makes one"));
  CHECK(has(text, "it is an SQLite file of another program"));
  CHECK(bytes_of(path) == before);
}

TEST_CASE("a book of a newer version is refused with what to install, and loses nothing") {
  const BookFolder folder;
  const auto ours = std::to_string(schema_steps().size());
  const auto newer = std::to_string(schema_steps().size() + 1);
  meddle(folder.path, ("PRAGMA user_version = " + newer).c_str());
  const std::string before = bytes_of(folder.path);
  const std::string text = said_on_opening(folder.path);
  CHECK(has(text, "made by a newer greasepaint; install that one"));
  CHECK(has(text, "of version " + newer + ", this program knows up to " + ours));
  CHECK(bytes_of(folder.path) == before);
  meddle(folder.path, ("PRAGMA user_version = " + ours).c_str());
  CHECK(Book(folder.path).state()->production->title == "The Lamp");
}

TEST_CASE("a book cut short is damaged wherever it is cut, and what is left of it stays") {
  const BookFolder folder;
  const std::string whole = bytes_of(folder.path);
  constexpr std::size_t kPage = 4096;  // SQLite's own choice: sqlite.org/pgszchng2016.html
  REQUIRE(whole.size() > 3 * kPage);
  REQUIRE(whole.size() % kPage == 0);
  // inside the header of 100 bytes (sqlite.org/fileformat2.html, 1.3), at pages, between, the last
  for (const std::size_t size : {std::size_t{16},
                                 std::size_t{17},
                                 std::size_t{99},
                                 std::size_t{100},
                                 kPage - 1,
                                 kPage,
                                 kPage + 1,
                                 2 * kPage,
                                 whole.size() / 2,
                                 whole.size() - kPage}) {
    CAPTURE(size);
    const std::string cut = whole.substr(0, size);
    write_bytes(folder.path, cut);
    const std::string text = said_on_opening(folder.path);
    INFO(text);
    CHECK((has(text, "is damaged; leave the file as it is") || has(text, " is no book; ")));
    CHECK(has(text, folder.path));
    CHECK(bytes_of(folder.path) == cut);
  }
  // inside the last page SQLite reads zeros for what is not there, and a log may still complete it:
  // such a file is refused, or nothing of the book stood in what was lost
  const std::string cut = whole.substr(0, whole.size() - 1);
  write_bytes(folder.path, cut);
  const std::string text = said_on_opening(folder.path);
  if (text.empty()) {
    CHECK(same_json(*Book(folder.path).state()->production_document, Document::parse(kSmallFilm)));
  } else {
    CHECK(has(text, "is damaged"));
  }
  write_bytes(folder.path, whole);
  CHECK(Book(folder.path).state()->revision == 1);
}

TEST_CASE("a page of other bytes and tables that lack what a book has are damage") {
  const BookFolder folder;
  const std::string whole = bytes_of(folder.path);
  constexpr std::size_t kPage = 4096;
  std::string hurt = whole;
  for (std::size_t at = kPage; at < hurt.size(); ++at) hurt[at] = '\x5a';
  write_bytes(folder.path, hurt);
  CHECK(has(said_on_opening(folder.path), "is damaged; leave the file as it is"));
  CHECK(bytes_of(folder.path) == hurt);
  const std::pair<const char*, const char*> cases[] = {
      {"DELETE FROM documents", "it holds no production"},
      {"DELETE FROM history", "it has no history"},
      {"UPDATE documents SET value = '{'", "its production has a fault at its beginning"},
      {"INSERT INTO documents VALUES ('settings', '{')", "a document in it is no JSON"},
      {"UPDATE documents SET value = '{\"greasepaint\":1}'",
       "its production has a fault at its beginning"},
      {"INSERT INTO documents VALUES ('sign-up/a', '{\"id\":\"a\"}')",
       "its sign-up/a has a fault at its beginning"}};
  for (const auto& [sql, cause] : cases) {
    CAPTURE(std::string(sql));
    write_bytes(folder.path, whole);
    meddle(folder.path, sql);
    const std::string text = said_on_opening(folder.path);
    INFO(text);
    CHECK(has(text, "the book " + folder.path + " is damaged; leave the file as it is"));
    CHECK(has(text, cause));
  }
}

TEST_CASE("while another connection writes, a change is refused and reading goes on") {
  const BookFolder folder;
  Book book(folder.path, kShort);
  {
    Database other(folder.path, Database::Mode::read_write, kShort);
    const Transaction writing(other, "BEGIN IMMEDIATE");
    const std::string text = said([&] { book.change(change_of("production", kRename)); });
    CHECK(has(text, "another program holds it; close that program or try again in a moment"));
    CHECK(book.state()->production->title == "The Lamp");
    CHECK(Book(folder.path, kShort).state()->revision == 1);
    CHECK(has(said([&] { entered(book, sign_up_of("Ada")); }), "another program holds it"));
  }
  CHECK(book.state()->revision == 1);
  CHECK(book.state()->sign_ups.empty());
  CHECK(kept(book.change(change_of("production", kRename))).revision == 2);
}

TEST_CASE("a book that another process holds for itself does not open, and opens afterwards") {
  const BookFolder folder;
  int ready[2] = {-1, -1};
  int enough[2] = {-1, -1};
  REQUIRE(::pipe(ready) == 0);
  REQUIRE(::pipe(enough) == 0);
  const pid_t child = ::fork();
  REQUIRE(child >= 0);
  if (child == 0) {
    ::close(enough[1]);
    char sign = 'n';
    try {
      Database other(folder.path, Database::Mode::read_write, kShort);
      other.run("PRAGMA locking_mode = EXCLUSIVE");
      const Transaction writing(other, "BEGIN EXCLUSIVE");
      sign = 'y';
      if (::write(ready[1], &sign, 1) != 1 || ::read(enough[0], &sign, 1) != 0) sign = 'n';
    } catch (const std::exception&) {
      sign = 'n';
    }
    ::_exit(0);
  }
  ::close(ready[1]);
  ::close(enough[0]);
  char sign = 'n';
  CHECK(::read(ready[0], &sign, 1) == 1);
  CHECK(sign == 'y');
  CHECK(has(said_on_opening(folder.path), "another program holds it; close that program or try"));
  ::close(enough[1]);  // the other process ends
  ::close(ready[0]);
  ::waitpid(child, nullptr, 0);
  CHECK(Book(folder.path, kShort).state()->production->title == "The Lamp");
}

TEST_CASE("a book that may only be read opens, and a change says what to do") {
  const BookFolder folder;
  const std::string before = bytes_of(folder.path);
  REQUIRE(::chmod(folder.path.c_str(), 0444) == 0);
  REQUIRE(::chmod(folder.folder.path().c_str(), 0555) == 0);
  CHECK(said_as_nobody([&] {
          Book book(folder.path, kShort);
          return book.state()->production->title + " " + std::to_string(book.history(0).size());
        }) == "The Lamp 1");
  const std::string text = said_as_nobody([&] {
    Book book(folder.path, kShort);
    return said([&] { book.change(change_of("production", kRename)); });
  });
  CHECK(has(text, "may be read but not changed; change the permissions of the file"));
  REQUIRE(::chmod(folder.path.c_str(), 0000) == 0);
  CHECK(has(said_as_nobody([&] { return said_on_opening(folder.path); }),
            "cannot open the book " + folder.path + "; change its permissions: "));
  REQUIRE(::chmod(folder.folder.path().c_str(), 0755) == 0);
  REQUIRE(::chmod(folder.path.c_str(), 0600) == 0);
  CHECK(bytes_of(folder.path) == before);
}

TEST_CASE("a book that may be written in a folder that may not says so") {
  const BookFolder folder;
  REQUIRE(::chmod(folder.path.c_str(), 0666) == 0);
  REQUIRE(::chmod(folder.folder.path().c_str(), 0555) == 0);
  const std::string text = said_as_nobody([&] { return said_on_opening(folder.path); });
  INFO(text);
  CHECK(has(text, folder.path));
  CHECK(has(text, "permissions of "));
  CHECK(has(text, "its folder"));
  REQUIRE(::chmod(folder.folder.path().c_str(), 0755) == 0);
}

TEST_CASE("a new book never takes the place of what stands there") {
  const TemporaryFolder folder;
  const auto refused_at = [&](const std::string& path) {
    const std::string text = said([&] { Book::make(path, kSmallFilm, kNoon); });
    INFO(text);
    CHECK(has(text, "cannot make the book " + path + "; "));
    CHECK(has(text, "something stands there already: choose another name"));
  };
  const std::string file = folder.file("a.book");
  write_bytes(file, "my recipe");
  refused_at(file);
  CHECK(bytes_of(file) == "my recipe");
  const std::string under = folder.file("folder.book");
  std::filesystem::create_directory(under);
  refused_at(under);
  const std::string link = folder.file("link.book");
  std::filesystem::create_symlink("nowhere", link);  // a link to nothing is something too
  refused_at(link);
  CHECK(std::filesystem::is_symlink(std::filesystem::symlink_status(link)));
  std::size_t left = 0;
  for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(folder.path())) {
    ++left;
  }
  CHECK(left == 3);  // no half-made file beside them
}

TEST_CASE("a log that another book left behind never gets into a new book") {
  // SQLite would play a -wal or -journal of that name into the new file:
  // sqlite.org/howtocorrupt.html, section 1.4
  const BookFolder folder;
  const std::string other = folder.folder.file("new.book");
  {
    Book book(folder.path);
    kept(book.change(change_of("production", kRename)));
    std::filesystem::copy_file(folder.path + "-wal", other + "-wal");
  }
  REQUIRE(std::filesystem::file_size(other + "-wal") > 0);
  const std::string text = said([&] { Book::make(other, kSmallFilm, kNoon); });
  INFO(text);
  CHECK(has(text, "cannot make the book " + other + "; "));
  CHECK(has(text, other + "-wal"));
  CHECK_FALSE(std::filesystem::exists(other));
  CHECK(std::filesystem::file_size(other + "-wal") > 0);
}

TEST_CASE("a book in a folder that is not there is not made") {
  const TemporaryFolder folder;
  const std::string path = folder.file("no/such/lamp.book");
  const std::string text = said([&] { Book::make(path, kSmallFilm, kNoon); });
  CHECK(has(text, "cannot make the book " + path + "; choose another place or change its perm"));
  CHECK(std::filesystem::is_empty(folder.path()));
}

TEST_SUITE_END();

}  // namespace
}  // namespace gp
