#include "store/book.h"

#include "base/errors.h"
#include "store/json_patch.h"
#include "store/settings.h"

#include <thread>

#include "book_support.h"
#include <sys/stat.h>

namespace gp {
namespace {

using namespace test;

TEST_SUITE_BEGIN("store/book");

TEST_CASE("a book made of a production gives the same production back") {
  const BookFolder folder;
  Book book(folder.path);
  const auto state = book.state();
  CHECK(state->revision == 1);
  CHECK(state->production->title == "The Lamp");
  CHECK(same_json(*state->production_document, Document::parse(kSmallFilm)));
  // the keys in the order they were written
  CHECK(state->production_document->dump() == Document::parse(kSmallFilm).dump());
  CHECK(state->sign_ups.empty());
  CHECK(state->plan == nullptr);
}

TEST_CASE("a faulty production makes no book and every fault is told with its line") {
  const TemporaryFolder folder;
  const std::string path = folder.file("new.book");
  const auto faults = Book::make(path, "{\"greasepaint\": 1,\n \"days\": []}", kNoon);
  REQUIRE(faults.size() >= 2);  // no title, no day
  CHECK(faults[0].line > 0);
  CHECK_FALSE(std::filesystem::exists(path));
  CHECK(std::filesystem::is_empty(folder.path()));
}

TEST_CASE("a new book is its owner's alone, and stands where nothing stood") {
  const BookFolder folder;
  struct stat there {};
  REQUIRE(::stat(folder.path.c_str(), &there) == 0);
  CHECK((there.st_mode & 0777U) == 0600U);
  CHECK_THROWS_AS(Book::make(folder.path, kSmallFilm, kNoon), WorldError);
  Book book(folder.path);
  book.set_secret("server-key", "x");
  for (const char* end : {"-wal", "-shm"}) {
    REQUIRE(::stat((folder.path + end).c_str(), &there) == 0);
    CHECK((there.st_mode & 0777U) == 0600U);
  }
}

TEST_CASE("a change is kept whole with who, when and why, and seen after opening again") {
  const BookFolder folder;
  {
    Book book(folder.path);
    const auto result = kept(book.change(change_of(
        "production", R"([{"op":"replace","path":"/people/0/name","value":"Noor H."}])")));
    CHECK(result.revision == 2);
    CHECK_FALSE(result.merged);
    CHECK(book.state()->production->people[PersonId(0)].name == "Noor H.");
  }
  Book book(folder.path);
  CHECK(book.state()->revision == 2);
  CHECK(book.state()->production->people[PersonId(0)].name == "Noor H.");
  const auto history = book.history(0);
  REQUIRE(history.size() == 2);
  CHECK(history[1].who == "organiser");
  CHECK(history[1].why == "test");
  CHECK(history[1].at == kNoon + 1);
  REQUIRE(history[1].edits.size() == 1);
  CHECK(history[1].edits[0].patch ==
        patch(R"([{"op":"replace","path":"/people/0/name","value":"Noor H."}])"));
}

TEST_CASE("a change whose result is no right production is refused with every fault") {
  const BookFolder folder;
  Book book(folder.path);
  const auto refusal =
      refused(book.change(change_of("production",
                                    R"([{"op":"add","path":"/people/0/free/-","value":"2027-14-17"},
                    {"op":"add","path":"/roles/0/person","value":"nobody"}])")));
  CHECK(refusal.faults.size() == 2);
  CHECK(refusal.collisions.empty());
  CHECK(book.state()->revision == 1);
  CHECK(book.history(0).size() == 1);
}

TEST_CASE("several documents change together or not at all") {
  const BookFolder folder;
  Book book(folder.path);
  Change both = change_of("settings", R"([{"op":"add","path":"","value":{"most_people":3}}])");
  both.edits.push_back({"production", patch(R"([{"op":"remove","path":"/title"}])")});
  CHECK_FALSE(refused(book.change(both)).faults.empty());
  CHECK(book.state()->settings.is_null());
  both.edits[1].patch = patch(R"([{"op":"replace","path":"/title","value":"Lamps"}])");
  CHECK(kept(book.change(both)).revision == 2);
  CHECK(read_settings(book.state()->settings).most_people == 3);
  CHECK(book.state()->production->title == "Lamps");
}

TEST_CASE("a sign-up is entered once however often its form is sent") {
  const BookFolder folder;
  Book book(folder.path);
  const auto first = book.enter(sign_up_of("Ada"), "form-1", "link-1", kNoon);
  const auto again = book.enter(sign_up_of("Ada"), "form-1", "link-2", kNoon + 5);
  REQUIRE(std::holds_alternative<Book::Entered>(first));
  REQUIRE(std::holds_alternative<Book::Entered>(again));
  CHECK_FALSE(std::get<Book::Entered>(first).again);
  CHECK(std::get<Book::Entered>(again).again);
  CHECK(std::get<Book::Entered>(again).id == std::get<Book::Entered>(first).id);
  CHECK(book.state()->sign_ups.size() == 1);
  CHECK(book.opened_by("link-1") == std::get<Book::Entered>(first).id);
  CHECK_FALSE(book.opened_by("link-2"));
}

TEST_CASE("a link opens its sign-up until it is revoked") {
  const BookFolder folder;
  Book book(folder.path);
  const std::string id = entered(book, sign_up_of("Ada"));
  book.add_link(id, "secret", kNoon);
  CHECK(book.opened_by("secret") == id);
  CHECK_FALSE(book.opened_by("Secret"));
  book.revoke_links(id, kNoon + 1);
  CHECK_FALSE(book.opened_by("secret"));
  book.add_link(id, "other", kNoon + 2);
  CHECK(book.opened_by("other") == id);
}

TEST_CASE("plans, what was told, and secrets are kept") {
  const BookFolder folder;
  {
    Book book(folder.path);
    CHECK(book.keep_plan({0, 1, "sha", kNoon, "{\"plan\":1}"}) == 1);
    CHECK(book.keep_plan({0, 1, "sha", kNoon, "{\"plan\":2}"}) == 2);
    book.tell({{"noor", "2027-04-17", "07:40", 1, "page", kNoon}});
    book.tell({{"noor", "2027-04-17", "07:40", 1, "page", kNoon + 9},
               {"noor", "2027-04-17", "08:00", 2, "page", kNoon + 9}});
    book.set_secret("passphrase", "hash");
  }
  Book book(folder.path);
  REQUIRE(book.state()->plan != nullptr);
  CHECK(book.state()->plan->number == 2);
  CHECK(book.plan(1)->json == "{\"plan\":1}");
  CHECK_FALSE(book.plan(3));
  REQUIRE(book.told().size() == 2);
  CHECK(book.told()[0].at == kNoon);
  CHECK(book.told()[1].call == "08:00");
  CHECK(book.secret("passphrase") == "hash");
  book.set_secret("passphrase", "");
  CHECK(book.secret("passphrase").empty());
}

TEST_CASE("another book on the same file sees each change") {
  const BookFolder folder;
  Book one(folder.path);
  Book two(folder.path);
  kept(one.change(change_of("production", R"([{"op":"replace","path":"/title","value":"A"}])")));
  CHECK(two.state()->production->title == "A");
  const std::string id = entered(two, sign_up_of("Ada"));
  CHECK(one.state()->sign_up(id) != nullptr);
  two.keep_plan({0, 3, "sha", kNoon, "{}"});
  CHECK(one.state()->plan != nullptr);
  // and changes on top of the other's
  CHECK(
      kept(one.change(change_of("settings", R"([{"op":"add","path":"","value":{}}])"))).revision ==
      4);
}

TEST_CASE("many threads enter at once and each sign-up is there once") {
  const BookFolder folder;
  Book book(folder.path);
  constexpr int kThreads = 8;
  constexpr int kEach = 25;
  std::vector<std::thread> threads;
  for (int t = 0; t < kThreads; ++t) {
    threads.emplace_back([&book, t] {
      for (int i = 0; i < kEach; ++i) {
        const std::string name = "P" + std::to_string(t) + "-" + std::to_string(i);
        const auto result = book.enter(sign_up_of(name), name, name, kNoon);
        if (!std::holds_alternative<Book::Entered>(result)) std::abort();
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  const auto state = book.state();
  CHECK(state->sign_ups.size() == kThreads * kEach);
  CHECK(state->revision == 1 + kThreads * kEach);
  CHECK(Book(folder.path).state()->sign_ups.size() == kThreads * kEach);
}

TEST_CASE("of many who want the last places at once exactly so many get one") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(change_of("settings", R"([{"op":"add","path":"","value":{"most_people":5}}])")));
  std::vector<std::thread> threads;
  for (int t = 0; t < 8; ++t) {
    threads.emplace_back([&book, t] {
      for (int i = 0; i < 2; ++i) {
        const std::string name = "P" + std::to_string(t) + "-" + std::to_string(i);
        if (book.enter(sign_up_of(name), name, {}, kNoon).index() != 0) std::abort();
      }
    });
  }
  for (std::thread& thread : threads) thread.join();
  std::size_t fresh = 0;
  std::size_t waiting = 0;
  for (const auto& sign_up : book.state()->sign_ups) {
    if (sign_up->state == SignUpState::fresh) ++fresh;
    if (sign_up->state == SignUpState::waiting) ++waiting;
  }
  CHECK(fresh == 5);
  CHECK(waiting == 11);
}

TEST_SUITE_END();

}  // namespace
}  // namespace gp
