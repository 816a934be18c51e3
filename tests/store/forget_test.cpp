#include "store/forget.h"

#include "base/errors.h"
#include "store/enrol.h"

#include <fstream>
#include <iterator>

#include "book_support.h"

namespace gp {
namespace {

using namespace test;

std::string all_bytes(const std::string& path) {
  std::string bytes;
  for (const char* end : {"", "-wal", "-shm", "-journal"}) {
    std::ifstream in(path + end, std::ios::binary);
    bytes.append(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
  }
  return bytes;
}

SignUp private_sign_up() {
  SignUp sign_up = sign_up_of("Ada Quill");
  sign_up.phone = "+353-PRIVATE-1";
  sign_up.food = "no hazelnuts at all";
  sign_up.skin = "allergic to Überlatex";
  sign_up.need_name = "Mother Quill";
  sign_up.words = "first words of mine";
  sign_up.friends = "Cousin Xenia";
  sign_up.brings = {{"Tiny Quill", true, std::nullopt, 7, "", "asthma of the child", ""}};
  return sign_up;
}

/// Signs up, is accepted, and changes an answer, so that history holds old and new ones.
std::string live_through(Book& book) {
  const std::string id = entered(book, private_sign_up(), "form");
  kept(book.change(accept(*book.state(), *book.state()->sign_up(id), "organiser", kNoon + 3)));
  SignUp changed = *book.state()->sign_up(id);
  changed.food = "no walnuts either";
  kept(book.change(change_answers(*book.state(), changed, kNoon + 4)));
  book.keep_plan(
      {0, 4, "sha", kNoon, R"({"stays":[{"person":"ada-quill"}],"why":"Ada Quill is late"})"});
  book.tell({{"ada-quill", "2027-04-17", "07:40", 1, "page", kNoon}});
  return id;
}

TEST_SUITE_BEGIN("store/forget");

TEST_CASE("what is private is gone from documents, history and bytes; names stay") {
  const BookFolder folder;
  {
    Book book(folder.path);
    live_through(book);
  }
  REQUIRE(all_bytes(folder.path).find("hazelnuts") != std::string::npos);
  const Forgotten done = forget_private(folder.path, kNoon + 9);
  CHECK(done.left.empty());
  CHECK(done.people >= 2);
  CHECK(done.values >= 6);
  const std::string bytes = all_bytes(folder.path);
  for (const char* text : {"PRIVATE",
                           "hazelnuts",
                           "walnuts",
                           "berlatex",
                           "Mother Quill",
                           "first words",
                           "Xenia",
                           "asthma of"}) {
    CHECK_MESSAGE(bytes.find(text) == std::string::npos, text);
  }
  Book book(folder.path);
  const auto state = book.state();
  REQUIRE(state->sign_ups.size() == 1);
  CHECK(state->sign_ups[0]->name == "Ada Quill");
  CHECK(state->sign_ups[0]->skin.empty());
  for (Revision revision = 1; revision <= state->revision; ++revision) {
    CHECK(book.state_at(revision)->revision == revision);
  }
}

TEST_CASE("one person is gone altogether, the name and their child included") {
  const BookFolder folder;
  std::string id;
  {
    Book book(folder.path);
    id = live_through(book);
    // a part is fixed to them, so that somebody must stand in
    kept(book.change(change_of(
        "production", R"([{"op":"replace","path":"/roles/0/person","value":"ada-quill"}])")));
    // and somebody would like to be with them: the wish goes with them
    kept(book.change(
        change_of("production",
                  R"([{"op":"add","path":"/people/0/likes","value":["ada-quill","keeper"]}])")));
  }
  const Forgotten done = forget_person(folder.path, "ada-quill", kNoon + 9);
  CHECK(done.left.empty());
  const std::string bytes = all_bytes(folder.path);
  for (const char* text : {"Quill", "ada-quill", "PRIVATE", "hazelnuts", "walnuts"}) {
    CHECK_MESSAGE(bytes.find(text) == std::string::npos, text);
  }
  CHECK(bytes.find(id) == std::string::npos);
  Book book(folder.path);
  const auto state = book.state();
  CHECK(state->sign_ups.empty());
  const Role& keeper = state->production->roles[RoleId(0)];
  REQUIRE(keeper.person.valid());
  const Person& stand_in = state->production->people[keeper.person];
  CHECK(stand_in.name.empty());
  CHECK(state->production->people[PersonId(0)].likes == Tags{"keeper"});
  CHECK(stand_in.answer == Answer::no);
  CHECK(book.told()[0].person == stand_in.id);
  CHECK(state->production->people.size() == 4);  // three of the film and the stand-in
  for (Revision revision = 1; revision <= state->revision; ++revision) {
    CHECK(book.state_at(revision)->revision == revision);
  }
}

TEST_CASE("who is forgotten stands no more among those whom others would like to be with") {
  const BookFolder folder;
  std::string other;
  {
    Book book(folder.path);
    SignUp bea = sign_up_of("Bea");
    // however it is written; "Ada" alone and "Ada Quillfeather" may be somebody else
    bea.friends = "Bo Lind, ada quill, Ada\nQUILL, Ada\nAda Quillfeather; Tiny Quill";
    other = entered(book, bea);
    live_through(book);
    SignUp only = sign_up_of("Cleo");
    only.friends = "Ada Quill";
    entered(book, only);
  }
  const Forgotten done = forget_person(folder.path, "ada-quill", kNoon + 9);
  CHECK(done.left.empty());
  const std::string bytes = all_bytes(folder.path);
  for (const char* text : {"Ada Quill\"", "ada quill", "QUILL", "Tiny"}) {
    CHECK_MESSAGE(bytes.find(text) == std::string::npos, text);
  }
  Book book(folder.path);
  CHECK(book.state()->sign_up(other)->friends == "Bo Lind, Ada\nAda Quillfeather");
  for (const auto& sign_up : book.state()->sign_ups) {
    if (sign_up->name == "Cleo") CHECK(sign_up->friends.empty());
  }
}

TEST_CASE("nothing is forgotten while another has the book open, and nothing is lost") {
  const BookFolder folder;
  Book book(folder.path);
  live_through(book);
  CHECK_THROWS_AS(forget_private(folder.path, kNoon + 9), WorldError);
  CHECK(book.state()->sign_ups[0]->phone == "+353-PRIVATE-1");
  entered(book, sign_up_of("Bea"));
}

TEST_CASE("somebody who is not there cannot be forgotten") {
  const BookFolder folder;
  CHECK_THROWS_AS(forget_person(folder.path, "nobody", kNoon), WorldError);
}

TEST_SUITE_END();

}  // namespace
}  // namespace gp
