#include "base/errors.h"
#include "store/book.h"
#include "store/json_patch.h"
#include "store/settings.h"

#include <map>
#include <string>

#include "book_support.h"

// Undo, redo, older revisions and merging, by cases worked out by hand. People of the small film:
// noor is entry 0, bo 1, sami 2.

namespace gp {
namespace {

using namespace test;

std::string replaced(const std::string& path, const std::string& value) {
  return R"([{"op":"replace","path":")" + path + R"(","value":")" + value + R"("}])";
}

Change at(Change change, UnixTime moment) {
  change.at = moment;
  return change;
}

Change by(Change change, const std::string& who) {
  change.who = who;
  return change;
}

Change titled(const std::string& title, std::optional<Revision> seen = std::nullopt) {
  return change_of("production", replaced("/title", title), seen);
}

Change named(int person, const std::string& name, std::optional<Revision> seen = std::nullopt) {
  return change_of(
      "production", replaced("/people/" + std::to_string(person) + "/name", name), seen);
}

std::string title(Book& book) {
  return book.state()->production->title;
}

/// "Noor Haddad, Bo Lind, Sami Haddad"
std::string names(const Production& production) {
  std::string all;
  for (const Person& person : production.people) all += (all.empty() ? "" : ", ") + person.name;
  return all;
}

Kept done(const std::optional<std::variant<Kept, Refusal>>& result) {
  REQUIRE(result.has_value());
  return kept(*result);
}

TEST_SUITE_BEGIN("store/history");

TEST_CASE("undo and redo walk back and forth over the changes") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(titled("A")));  // 2
  kept(book.change(titled("B")));  // 3
  CHECK(done(book.undo({}, kNoon + 5)).revision == 4);
  CHECK(title(book) == "A");
  CHECK(done(book.undo({}, kNoon + 6)).revision == 5);
  CHECK(title(book) == "The Lamp");
  CHECK_FALSE(book.undo({}, kNoon + 7));  // the beginning stays
  CHECK(done(book.redo({}, kNoon + 7)).revision == 6);
  CHECK(title(book) == "A");
  CHECK(done(book.redo({}, kNoon + 8)).revision == 7);
  CHECK(title(book) == "B");
  CHECK_FALSE(book.redo({}, kNoon + 9));
  CHECK(done(book.undo({}, kNoon + 9)).revision == 8);  // what was redone can be undone again
  CHECK(title(book) == "A");
  CHECK(done(book.redo({}, kNoon + 9)).revision == 9);
  CHECK(title(book) == "B");

  const auto history = book.history(0);
  REQUIRE(history.size() == 9);
  const std::optional<Revision> undoes[] = {{}, {}, {}, 3, 2, 5, 4, 7, 8};
  for (std::size_t i = 0; i < history.size(); ++i) {
    CAPTURE(i);
    CHECK(history[i].undoes == undoes[i]);
  }
  CHECK(history[3].why == "undo: test");
  CHECK(history[5].why == "redo: test");
  CHECK(history[7].why == "undo: test");
  CHECK(history[3].who == "command");
  CHECK(history[3].at == kNoon + 5);
}

TEST_CASE("undo leaves the friends' own answers alone unless it is theirs") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(titled("A")));                                 // 2
  kept(book.change(by(named(0, "Noor the Friend"), "friend1")));  // 3
  CHECK(done(book.undo({}, kNoon)).revision == 4);
  CHECK(title(book) == "The Lamp");
  CHECK(names(*book.state()->production) == "Noor the Friend, Bo Lind, Sami Haddad");
  CHECK_FALSE(book.undo({}, kNoon));
  CHECK_FALSE(book.undo("friend2", kNoon));
  CHECK(done(book.undo("friend1", kNoon)).revision == 5);
  CHECK(names(*book.state()->production) == "Noor Haddad, Bo Lind, Sami Haddad");
  CHECK(book.history(4)[0].who == "friend1");
  // their undo is theirs: the organiser's redo is of revision 4
  CHECK(done(book.redo({}, kNoon)).revision == 6);
  CHECK(title(book) == "A");
  CHECK(names(*book.state()->production) == "Noor Haddad, Bo Lind, Sami Haddad");
}

TEST_CASE("a change in the middle is taken back and what came after stays") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(named(0, "N.")));  // 2
  kept(book.change(titled("T")));     // 3
  const Kept back = kept(book.undo_revision(2, "organiser", kNoon + 5));
  CHECK(back.revision == 4);
  CHECK(back.merged);
  CHECK(names(*book.state()->production) == "Noor Haddad, Bo Lind, Sami Haddad");
  CHECK(title(book) == "T");
  CHECK(book.history(3)[0].undoes == 2);
  // once more changes nothing and keeps nothing
  CHECK(kept(book.undo_revision(2, "organiser", kNoon + 6)).revision == 4);
  CHECK(book.history(0).size() == 4);
  // and the next undo goes on with what is not taken back yet
  CHECK(done(book.undo({}, kNoon + 7)).revision == 5);
  CHECK(title(book) == "The Lamp");
}

TEST_CASE("a change that others built on is not taken back; both sides are shown") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(titled("A")));  // 2
  kept(book.change(titled("B")));  // 3
  const Refusal refusal = refused(book.undo_revision(2, "organiser", kNoon + 5));
  CHECK(refusal.faults.empty());
  REQUIRE(refusal.collisions.size() == 1);
  CHECK(refusal.collisions[0].document == "production");
  CHECK(refusal.collisions[0].path == "title");
  CHECK(refusal.collisions[0].before == "A");
  CHECK(refusal.collisions[0].theirs == "B");
  CHECK(refusal.collisions[0].mine == "The Lamp");
  CHECK(title(book) == "B");
  CHECK(book.history(0).size() == 3);
}

TEST_CASE("the beginning and a revision that is not there cannot be taken back") {
  const BookFolder folder;
  Book book(folder.path);
  for (const Revision revision : {Revision{1}, Revision{0}, Revision{-1}, Revision{2}}) {
    CAPTURE(revision);
    const Refusal refusal = refused(book.undo_revision(revision, "organiser", kNoon));
    REQUIRE(refusal.faults.size() == 1);
    CHECK(refusal.faults[0].found == "revision " + std::to_string(revision));
  }
  CHECK_FALSE(book.undo({}, kNoon));
  CHECK_FALSE(book.redo({}, kNoon));
  CHECK(book.history(0).size() == 1);
}

TEST_CASE("a taking back that would leave a faulty production is refused") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(change_of(  // 2
      "production",
      R"([{"op":"add","path":"/people/-","value":{"id":"li","name":"Li"}}])")));
  kept(book.change(change_of("production", replaced("/roles/0/person", "li"))));  // 3
  const Refusal refusal = refused(book.undo_revision(2, "organiser", kNoon));
  REQUIRE(refusal.faults.size() == 1);  // the keeper would be played by nobody
  CHECK(refusal.faults[0].path == "roles[0].person");
  CHECK(book.state()->revision == 3);
}

TEST_CASE("a sign-up is taken away by undoing its coming, and comes back whole") {
  const BookFolder folder;
  Book book(folder.path);
  SignUp ada = sign_up_of("Ada");
  ada.food = "no nuts";
  const std::string id = entered(book, ada);  // 2
  const SignUp before = *book.state()->sign_up(id);
  kept(book.undo_revision(2, "organiser", kNoon + 5));  // 3
  CHECK(book.state()->sign_ups.empty());
  CHECK(done(book.redo("organiser", kNoon + 6)).revision == 4);
  REQUIRE(book.state()->sign_up(id) != nullptr);
  CHECK(*book.state()->sign_up(id) == before);
  CHECK(book.state_at(3)->sign_ups.empty());
  CHECK(Book(folder.path).state()->sign_ups.size() == 1);
}

TEST_CASE("every revision can be looked at as it was") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(titled("A")));  // 2
  kept(book.change(change_of("settings", R"([{"op":"add","path":"","value":{"about":"tea"}}])")));
  const std::string id = entered(book, sign_up_of("Ada"));  // 4
  book.keep_plan({0, 4, "sha", kNoon, "{}"});
  kept(book.change(change_of("production", R"([{"op":"remove","path":"/people/2"}])")));     // 5
  kept(book.change(change_of("settings", R"([{"op":"replace","path":"","value":null}])")));  // 6
  book.keep_plan({0, 6, "sha", kNoon, "{}"});

  struct Was {
    const char* title;
    std::size_t people;
    const char* about;
    std::size_t sign_ups;
    std::int64_t plan;
  };
  const Was was[] = {{"The Lamp", 3, "", 0, 0},
                     {"A", 3, "", 0, 0},
                     {"A", 3, "tea", 0, 0},
                     {"A", 3, "tea", 1, 1},
                     {"A", 2, "tea", 1, 1},
                     {"A", 2, "", 1, 2}};
  for (Revision revision = 1; revision <= 6; ++revision) {
    CAPTURE(revision);
    const Was& expected = was[revision - 1];
    const auto state = book.state_at(revision);
    CHECK(state->revision == revision);
    CHECK(state->production->title == expected.title);
    CHECK(state->production->people.size() == expected.people);
    CHECK(read_settings(state->settings).about == expected.about);
    CHECK(state->sign_ups.size() == expected.sign_ups);
    CHECK((state->plan == nullptr ? 0 : state->plan->number) == expected.plan);
  }
  CHECK(book.state_at(1)->production_document->dump() == Document::parse(kSmallFilm).dump());
  CHECK(book.state_at(4)->sign_up(id) != nullptr);
  CHECK(*book.state_at(6)->production_document == *book.state()->production_document);
  for (const Revision revision : {Revision{0}, Revision{7}, Revision{-5}}) {
    CAPTURE(revision);
    CHECK_THROWS_WITH_AS(
        book.state_at(revision), doctest::Contains("; choose one from 1 to 6"), WorldError);
  }
}

TEST_CASE("the history's patches, applied one after another, give every revision") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(titled("A")));                           // 2
  kept(book.change(named(1, "Bo L.", 1)));                  // 3, merged
  const std::string id = entered(book, sign_up_of("Ada"));  // 4
  kept(book.change(change_of("sign-up/" + id,               // 5
                             R"([{"op":"add","path":"/food","value":"no nuts"}])")));
  done(book.undo({}, kNoon));                       // 6
  kept(book.undo_revision(2, "organiser", kNoon));  // 7
  std::map<std::string, Document> documents;
  const auto history = book.history(0);
  REQUIRE(history.size() == 7);
  for (const HistoryEntry& entry : history) {
    CAPTURE(entry.revision);
    for (const Edit& edit : entry.edits) {
      documents[edit.document] = patched(documents[edit.document], edit.patch);
    }
    const auto state = book.state_at(entry.revision);
    CHECK(same_json(documents["production"], *state->production_document));
    const auto sign_up = state->sign_up(id);
    CHECK(same_json(documents["sign-up/" + id],
                    sign_up == nullptr ? Document() : write_sign_up(*sign_up)));
  }
}

TEST_CASE("the history can be had from a revision on, and the newest of it") {
  const BookFolder folder;
  Book book(folder.path);
  for (const char* each : {"A", "B", "C", "D"}) kept(book.change(titled(each)));  // 2 to 5
  const auto after = book.history(3);
  REQUIRE(after.size() == 2);
  CHECK(after[0].revision == 4);
  CHECK(after[1].revision == 5);
  const auto newest = book.history(0, 3);
  REQUIRE(newest.size() == 3);
  CHECK(newest[0].revision == 3);
  CHECK(newest[2].revision == 5);
  CHECK(book.history(5).empty());
  CHECK(book.history(0, 0).empty());
}

TEST_CASE("the revision of a moment is the last one kept until then") {
  const BookFolder folder;  // made at kNoon
  Book book(folder.path);
  kept(book.change(at(titled("A"), kNoon + 10)));
  kept(book.change(at(titled("B"), kNoon + 20)));
  const std::pair<UnixTime, Revision> cases[] = {
      {-1000, 1}, {0, 1}, {9, 1}, {10, 2}, {19, 2}, {20, 3}, {1'000'000, 3}};
  for (const auto& [later, revision] : cases) {
    CAPTURE(later);
    CHECK(book.revision_at(kNoon + later) == revision);
  }
}

TEST_CASE("changes made for an older revision are merged where they touch other values") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(named(0, "Noor H.")));  // 2
  const Kept merged = kept(book.change(named(1, "Bo L.", 1)));
  CHECK(merged.revision == 3);
  CHECK(merged.merged);
  CHECK(names(*book.state()->production) == "Noor H., Bo L., Sami Haddad");
  // the history has what it did to the newest, not what its writer had before them
  CHECK(book.history(2)[0].edits[0].patch == patch(replaced("/people/1/name", "Bo L.")));

  // another document was not touched since: nothing to merge
  const Kept other = kept(
      book.change(change_of("settings", R"([{"op":"add","path":"","value":{"about":"x"}}])", 1)));
  CHECK_FALSE(other.merged);
}

TEST_CASE("entries are matched by their ids where others moved them") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(change_of("production", R"([{"op":"remove","path":"/people/0"}])")));  // 2
  kept(book.change(named(1, "Bo L.", 1)));  // entry 1 of revision 1 is bo, now entry 0
  CHECK(names(*book.state()->production) == "Bo L., Sami Haddad");
}

TEST_CASE("people added at once by two are both there") {
  const BookFolder folder;
  Book book(folder.path);
  const auto added = [](const std::string& id) {
    return change_of("production",
                     R"([{"op":"add","path":"/people/-","value":{"id":")" + id + R"(","name":")" +
                         id + R"("}}])",
                     1);
  };
  kept(book.change(added("li")));
  kept(book.change(added("mo")));
  const std::string all = names(*book.state()->production);
  CHECK(all.find("li") != std::string::npos);
  CHECK(all.find("mo") != std::string::npos);
  CHECK(book.state()->production->people.size() == 5);
  // the same id by both is no two people
  const Refusal refusal = refused(book.change(change_of(
      "production", R"([{"op":"add","path":"/people/-","value":{"id":"li","name":"Other"}}])", 1)));
  REQUIRE(refusal.collisions.size() == 1);
  CHECK(refusal.collisions[0].path == "people[li].name");
  CHECK(book.state()->production->people.size() == 5);
}

TEST_CASE("what both sides changed is shown with all three values, and nothing is kept") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(named(0, "Noor H.")));  // 2
  Change mine = named(0, "N. Haddad", 1);
  mine.edits.push_back({"settings", patch(R"([{"op":"add","path":"","value":{"about":"x"}}])")});
  const Refusal refusal = refused(book.change(mine));
  CHECK(refusal.faults.empty());
  REQUIRE(refusal.collisions.size() == 1);
  CHECK(refusal.collisions[0].document == "production");
  CHECK(refusal.collisions[0].path == "people[noor].name");
  CHECK(refusal.collisions[0].before == "Noor Haddad");
  CHECK(refusal.collisions[0].theirs == "Noor H.");
  CHECK(refusal.collisions[0].mine == "N. Haddad");
  CHECK(book.state()->revision == 2);
  CHECK(book.state()->settings.is_null());  // the edit beside it neither
  // made again for the newest it is kept
  mine.seen = 2;
  CHECK(kept(book.change(mine)).revision == 3);
  CHECK(names(*book.state()->production) == "N. Haddad, Bo Lind, Sami Haddad");
}

TEST_CASE("whom one side took away and the other changed is a collision") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(change_of("production", R"([{"op":"remove","path":"/people/2"}])")));  // sami
  const Refusal refusal = refused(book.change(named(2, "Sam", 1)));
  REQUIRE(refusal.collisions.size() == 1);
  CHECK(refusal.collisions[0].path == "people[sami]");
  CHECK(refusal.collisions[0].before == patch(R"({"id":"sami","name":"Sami Haddad"})"));
  CHECK(refusal.collisions[0].theirs.is_null());
  CHECK(refusal.collisions[0].mine == patch(R"({"id":"sami","name":"Sam"})"));
}

TEST_CASE("the same change by both is kept once") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(titled("A", 1)));
  CHECK(kept(book.change(titled("A", 1))).revision == 2);
  CHECK(book.history(0).size() == 2);
}

TEST_CASE("a merge that fits value by value but makes no right production is refused") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(change_of("production", R"([{"op":"remove","path":"/people/2"}])")));  // sami
  const Refusal refusal =
      refused(book.change(change_of("production", replaced("/roles/0/person", "sami"), 1)));
  CHECK(refusal.collisions.empty());
  REQUIRE(refusal.faults.size() == 1);
  CHECK(refusal.faults[0].path == "roles[0].person");
  CHECK(book.state()->revision == 2);
}

TEST_CASE("a change made for a revision that the book does not have is refused") {
  const BookFolder folder;
  Book book(folder.path);
  for (const Revision seen : {Revision{0}, Revision{-1}, Revision{2}}) {
    CAPTURE(seen);
    const Refusal refusal = refused(book.change(titled("A", seen)));
    REQUIRE(refusal.faults.size() == 1);
    CHECK(refusal.faults[0].expected == "one that the book has: 1 to 1");
  }
  CHECK(title(book) == "The Lamp");
}

TEST_SUITE_END();

}  // namespace
}  // namespace gp
