#include "store/sign_up.h"

#include "base/errors.h"
#include "store/enrol.h"
#include "store/json_patch.h"
#include "store/settings.h"
#include "time/clock.h"

#include <algorithm>
#include <string>

#include "book_support.h"

namespace gp {
namespace {

using namespace test;

Date day(const char* text) {
  const auto date = parse_date(text);
  REQUIRE(date.has_value());
  return *date;
}

FreeTime free_on(const char* date, const char* hours = nullptr) {
  FreeTime free{day(date), std::nullopt};
  if (hours != nullptr) free.hours = parse_wall_span(hours);
  return free;
}

/// Every field set to something other than its default.
SignUp full_sign_up() {
  SignUp one;
  one.id = "k3";
  one.state = SignUpState::accepted;
  one.person = "zoë-quill";
  one.sent_at = kNoon;
  one.changed_at = kNoon + 1;
  one.seen = true;
  one.language = "en-IE";
  one.name = "Zoë \"Zed\" Quill";
  one.phone = "+353 1 000 0000";
  one.email = "zoe@example.org";
  one.answer = Answer::maybe;
  one.free = {{free_on("2027-04-17"), free_on("2027-04-18", "09:00-13:30")}};
  one.can = {"light", "paint"};
  one.likes = {"keeper"};
  one.friends = "Bo Lind\nHaddad, Noor";
  one.no = {"heights"};
  one.sizes = {{"head_cm", 56.5}, {"shoe", 38}};
  one.food = "no nuts\nno milk";
  one.skin = "latex";
  one.need_name = "Mother Quill";
  one.need_phone = "+353 1 000 0001";
  one.adult = false;
  one.born = day("2011-02-28");
  one.guardian = "Father Quill";
  one.guardian_phone = "+353 1 000 0002";
  one.brings = {{"Tiny", true, day("2019-05-01"), std::nullopt, "tiny", "asthma", "no fish"},
                {"Kid", true, std::nullopt, 7, "", "", ""},
                {"Aunt", false, std::nullopt, std::nullopt, "aunt", "", ""}};
  one.may_be_filmed = true;
  one.consent_text = "I agree.";
  one.words = "See you <there>!";
  one.notices = {{day("2027-04-17"), false, 20, "bus", kNoon + 2, true},
                 {day("2027-04-18"), true, 0, "", kNoon + 3, false}};
  return one;
}

SignUp read_back(const Document& document) {
  auto read = read_sign_up(document);
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    for (const Fault& fault : *faults) {
      FAIL_CHECK(fault.path << ": " << fault.found << ", expected " << fault.expected);
    }
    return {};
  }
  return std::get<SignUp>(std::move(read));
}

std::vector<std::string> fault_paths(const Document& document) {
  const auto read = read_sign_up(document);
  std::vector<std::string> paths;
  if (const auto* faults = std::get_if<std::vector<Fault>>(&read)) {
    for (const Fault& fault : *faults) {
      paths.push_back(fault.path);
      CHECK_FALSE(fault.found.empty());
      CHECK_FALSE(fault.expected.empty());
    }
  }
  return paths;
}

const Person* person(const BookState& state, const std::string& id) {
  const auto& people = state.production->people;
  const auto found =
      std::find_if(people.begin(), people.end(), [&](const Person& one) { return one.id == id; });
  return found == people.end() ? nullptr : &*found;
}

/// Ada, who brings a child, accepted: revisions 2 and 3. \return her sign-up's id
std::string accepted_ada(Book& book) {
  SignUp ada = sign_up_of("Ada Quill");
  ada.brings = {{"Tiny Quill", true, std::nullopt, 7, "", "", ""}};
  const std::string id = entered(book, ada);
  kept(book.change(accept(*book.state(), *book.state()->sign_up(id), "organiser", kNoon + 3)));
  return id;
}

TEST_SUITE_BEGIN("store/sign_up");

TEST_CASE("a sign-up with everything comes back the same") {
  const SignUp one = full_sign_up();
  const Document document = write_sign_up(one);
  CHECK(read_back(document) == one);
  CHECK(read_back(Document::parse(document.dump())) == one);
  CHECK(write_sign_up(read_back(document)).dump() == document.dump());
}

TEST_CASE("a sign-up that says little is a short document and comes back the same") {
  SignUp one;
  one.id = "k3";
  one.name = "Bo";
  const Document document = write_sign_up(one);
  CHECK(document == patch(R"({"id":"k3","state":"fresh","sent_at":0,"changed_at":0,"name":"Bo"})"));
  CHECK(read_back(document) == one);
  one.free.emplace();  // never free is another thing than always free
  CHECK(write_sign_up(one)["free"] == Document::array());
  CHECK(read_back(write_sign_up(one)) == one);
}

TEST_CASE("each state and each answer comes back the same") {
  SignUp one = full_sign_up();
  for (const SignUpState state : {SignUpState::fresh,
                                  SignUpState::accepted,
                                  SignUpState::waiting,
                                  SignUpState::declined,
                                  SignUpState::withdrawn}) {
    one.state = state;
    CHECK(read_back(write_sign_up(one)) == one);
  }
  for (const Answer answer : {Answer::asked, Answer::yes, Answer::maybe, Answer::no}) {
    one.answer = answer;
    CHECK(read_back(write_sign_up(one)) == one);
  }
}

TEST_CASE("each wrong value of a sign-up is told with its place") {
  struct Case {
    const char* change;  ///< a JSON Patch on the full one
    const char* path;    ///< of what lacks something it must have: its own; empty: the whole
  };
  const Case cases[] = {
      {R"([{"op":"remove","path":"/id"}])", ""},
      {R"([{"op":"replace","path":"/id","value":"a b"}])", "id"},
      {R"([{"op":"remove","path":"/state"}])", ""},
      {R"([{"op":"replace","path":"/state","value":"late"}])", "state"},
      {R"([{"op":"remove","path":"/person"}])", "person"},  // of somebody accepted
      {R"([{"op":"remove","path":"/name"}])", ""},
      {R"([{"op":"replace","path":"/name","value":"  "}])", "name"},
      {R"([{"op":"replace","path":"/name","value":7}])", "name"},
      {R"([{"op":"replace","path":"/sent_at","value":-1}])", "sent_at"},
      {R"([{"op":"replace","path":"/changed_at","value":1.5}])", "changed_at"},
      {R"([{"op":"replace","path":"/seen","value":"yes"}])", "seen"},
      {R"([{"op":"replace","path":"/answer","value":"perhaps"}])", "answer"},
      {R"([{"op":"replace","path":"/free/1","value":"2027-02-29"}])", "free[1]"},
      {R"([{"op":"replace","path":"/free/1","value":"2027-04-18 13:00-09:00"}])", "free[1]"},
      {R"([{"op":"replace","path":"/free/0","value":17}])", "free[0]"},
      {R"([{"op":"replace","path":"/sizes/shoe","value":-1}])", "sizes.shoe"},
      {R"([{"op":"replace","path":"/born","value":"1899-12-31"}])", "born"},
      {R"([{"op":"remove","path":"/brings/0/name"}])", "brings[0]"},
      {R"([{"op":"replace","path":"/brings/1/age","value":18}])", "brings[1].age"},
      {R"([{"op":"replace","path":"/brings/1/age","value":-1}])", "brings[1].age"},
      {R"([{"op":"add","path":"/brings/2/age","value":7}])", "brings[2]"},  // an adult's
      {R"([{"op":"replace","path":"/notices/0/minutes_late","value":601}])",
       "notices[0].minutes_late"},
      {R"([{"op":"replace","path":"/notices/0/minutes_late","value":0}])",
       "notices[0].minutes_late"},
      {R"([{"op":"remove","path":"/notices/0/minutes_late"}])", "notices[0]"},
      {R"([{"op":"add","path":"/notices/1/minutes_late","value":5}])", "notices[1]"},
      {R"([{"op":"remove","path":"/notices/1/day"}])", "notices[1]"},
      {R"([{"op":"add","path":"/colour","value":"red"}])", "colour"}};
  for (const Case& one : cases) {
    CAPTURE(std::string(one.change));
    const auto paths = fault_paths(patched(write_sign_up(full_sign_up()), patch(one.change)));
    REQUIRE(paths.size() == 1);
    CHECK(paths[0] == std::string(one.path));
  }
}

TEST_CASE("what only somebody under 18 has is a fault of an adult's sign-up, each told") {
  Document document = write_sign_up(full_sign_up());
  document.erase("adult");
  CHECK(fault_paths(document) == std::vector<std::string>{"born", "guardian", "guardian_phone"});
}

TEST_CASE("texts are kept up to the lengths the pages name, counted in characters") {
  const auto fits = [](const char* key, const std::string& text) {
    Document document = patch(R"({"id":"k3","state":"fresh","name":"Bo"})");
    document[key] = text;
    return fault_paths(document).empty();
  };
  const auto of = [](std::size_t count) {
    std::string text;
    for (std::size_t i = 0; i < count; ++i) text += "é";  // two bytes
    return text;
  };
  CHECK(fits("name", of(120)));
  CHECK_FALSE(fits("name", of(121)));
  CHECK(fits("phone", of(200)));
  CHECK_FALSE(fits("phone", of(201)));
  CHECK(fits("words", of(1000)));
  CHECK_FALSE(fits("words", of(1001)));
  CHECK(fits("friends", of(1000)));
  CHECK_FALSE(fits("friends", of(1001)));
  SignUp crowd = sign_up_of("Bo");
  crowd.id = "k3";
  crowd.brings.assign(12, Companion{"Kid", true, std::nullopt, 7, "", "", ""});
  CHECK(fault_paths(write_sign_up(crowd)).empty());
  crowd.brings.push_back(crowd.brings[0]);
  CHECK(fault_paths(write_sign_up(crowd)) == std::vector<std::string>{"brings"});
}

TEST_CASE("what is no sign-up at all is a fault") {
  for (const char* json : {"null", "[]", "\"Ada\"", "7"}) {
    CAPTURE(std::string(json));
    CHECK(fault_paths(patch(json)).size() == 1);
  }
  CHECK(fault_paths(patch("{}")) == std::vector<std::string>(3));  // no id, no state, no name
  // bytes that are no UTF-8 (RFC 3629, section 3: C0 never appears)
  CHECK(fault_paths(Document{{"id", "a"}, {"state", "fresh"}, {"name", "\xC0\x80"}}).size() == 1);
}

TEST_CASE("settings come back the same, and the defaults are an empty document") {
  CHECK(write_settings(Settings()) == Document::object());
  CHECK(read_settings(Document()) == Settings());
  Settings other;
  other.sign_ups_open = false;
  other.most_people = 0;
  other.accept_at_once = true;
  other.about = "A day of lamps";
  other.consent = "I agree.";
  other.forget_after_days = 3650;
  CHECK(write_settings(other).size() == 6);
  CHECK(read_settings(write_settings(other)) == other);
}

TEST_CASE("wrong settings are the defaults and right ones beside them hold") {
  for (const char* json : {R"({"sign_ups_open":"no"})",
                           R"({"sign_ups_open":0})",
                           R"({"most_people":-1})",
                           R"({"most_people":100001})",
                           R"({"most_people":2.5})",
                           R"({"most_people":"3"})",
                           R"({"most_people":18446744073709551615})",
                           R"({"accept_at_once":1})",
                           R"({"about":["x"]})",
                           R"({"consent":null})",
                           R"({"forget_after_days":0})",
                           R"({"forget_after_days":3651})",
                           "[]",
                           "7",
                           R"({"colour":"red"})"}) {
    CAPTURE(std::string(json));
    CHECK(read_settings(patch(json)) == Settings());
  }
  const Settings half = read_settings(patch(R"({"most_people":-1,"about":"tea"})"));
  CHECK_FALSE(half.most_people);
  CHECK(half.about == "tea");
}

TEST_CASE("who is declined after being accepted stays in the production with the answer no") {
  const BookFolder folder;
  Book book(folder.path);
  const std::string id = accepted_ada(book);
  REQUIRE(person(*book.state(), "ada-quill") != nullptr);
  CHECK(person(*book.state(), "ada-quill")->answer == Answer::yes);
  for (const SignUpState wanted :
       {SignUpState::declined, SignUpState::waiting, SignUpState::withdrawn, SignUpState::fresh}) {
    CAPTURE(static_cast<int>(wanted));
    kept(book.change(
        set_state(*book.state(), *book.state()->sign_up(id), wanted, "organiser", kNoon + 4)));
    const auto state = book.state();
    CHECK(state->sign_up(id)->state == wanted);
    CHECK(state->sign_up(id)->seen);
    CHECK(state->sign_up(id)->person == "ada-quill");
    for (const char* one : {"ada-quill", "tiny-quill"}) {
      REQUIRE(person(*state, one) != nullptr);
      CHECK(person(*state, one)->answer == Answer::no);
    }
    CHECK(person(*state, "bo")->answer == Answer::yes);
    // accepted again: the same two people come
    kept(book.change(set_state(
        *book.state(), *book.state()->sign_up(id), SignUpState::accepted, "organiser", kNoon + 5)));
    CHECK(person(*book.state(), "ada-quill")->answer == Answer::yes);
    CHECK(person(*book.state(), "tiny-quill")->answer == Answer::yes);
    CHECK(book.state()->production->people.size() == 5);
  }
}

TEST_CASE("who was never accepted is declined without touching the production") {
  const BookFolder folder;
  Book book(folder.path);
  const std::string id = entered(book, sign_up_of("Ada Quill"));
  const Change change = set_state(
      *book.state(), *book.state()->sign_up(id), SignUpState::declined, "organiser", kNoon + 3);
  REQUIRE(change.edits.size() == 1);
  CHECK(change.edits[0].document == "sign-up/" + id);
  kept(book.change(change));
  CHECK(book.state()->sign_up(id)->state == SignUpState::declined);
  CHECK(book.state()->production->people.size() == 3);
}

TEST_CASE("a sign-up made for a person of the production says what stands there") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(sign_up_for_person(*book.state(), "noor", "k3", "organiser", kNoon + 3)));
  const auto sign_up = book.state()->sign_up("k3");
  REQUIRE(sign_up != nullptr);
  CHECK(sign_up->state == SignUpState::accepted);
  CHECK(sign_up->person == "noor");
  CHECK(sign_up->name == "Noor Haddad");
  CHECK(sign_up->can == Tags{"paint"});
  REQUIRE(sign_up->free.has_value());
  CHECK(*sign_up->free == std::vector<FreeTime>{free_on("2027-04-17")});
  CHECK(sign_up->adult);
  CHECK(book.state()->sign_up_of_person("noor") == sign_up);
  CHECK(same_json(*book.state()->production_document, Document::parse(kSmallFilm)));
  CHECK_THROWS_WITH_AS(sign_up_for_person(*book.state(), "nobody", "k4", "organiser", kNoon),
                       doctest::Contains("the production has nobody of that id"),
                       WorldError);
}

TEST_CASE("a sign-up made for a person says what they would like to do, and not whom they like") {
  const BookFolder folder;
  Book book(folder.path);
  kept(book.change(change_of(
      "production", R"([{"op":"add","path":"/people/0/likes","value":["bo","keeper"]}])")));
  kept(book.change(sign_up_for_person(*book.state(), "noor", "k3", "organiser", kNoon + 3)));
  CHECK(book.state()->sign_up("k3")->likes == Tags{"keeper"});
  CHECK(book.state()->sign_up("k3")->friends.empty());
}

TEST_CASE("a child's sign-up made for them names the guardian; 18 on the first day is adult") {
  // first day 2027-04-17: born 2009-04-17 is 18 that day, a day later is 17
  const BookFolder folder(R"({
    "greasepaint": 1, "title": "The Lamp", "zone": "Europe/Dublin",
    "days": [{"date": "2027-04-17", "first_shot": "09:30"}],
    "people": [{"id": "ma", "name": "Ma Lind", "phone": "+353 1 000 0000"},
               {"id": "grown", "born": "2009-04-17"},
               {"id": "child", "born": "2009-04-18", "guardian": "ma"}],
    "scenes": [{"id": "stairs", "shoot_minutes": 30, "cast": []}]})");
  Book book(folder.path);
  for (const char* id : {"grown", "child"}) {
    kept(book.change(
        sign_up_for_person(*book.state(), id, std::string("k-") + id, "organiser", kNoon)));
  }
  const auto grown = book.state()->sign_up("k-grown");
  const auto child = book.state()->sign_up("k-child");
  REQUIRE((grown != nullptr && child != nullptr));
  CHECK(grown->adult);
  CHECK_FALSE(grown->born);
  CHECK_FALSE(child->adult);
  CHECK(child->born == day("2009-04-18"));
  CHECK(child->guardian == "Ma Lind");
  CHECK(child->guardian_phone == "+353 1 000 0000");
}

TEST_CASE("who will be late is noted, and the production stays as it is") {
  const BookFolder folder;
  Book book(folder.path);
  const std::string id = accepted_ada(book);
  const Document before = *book.state()->production_document;
  Notice late;
  late.day = day("2027-04-17");
  late.minutes_late = 20;
  late.words = "bus";
  kept(book.change(give_notice(*book.state(), *book.state()->sign_up(id), late, kNoon + 6)));
  const auto sign_up = book.state()->sign_up(id);
  REQUIRE(sign_up->notices.size() == 1);
  CHECK(sign_up->notices[0].minutes_late == 20);
  CHECK(sign_up->notices[0].at == kNoon + 6);
  CHECK_FALSE(sign_up->seen);
  CHECK(same_json(*book.state()->production_document, before));
  CHECK(book.history(3)[0].who == id);
}

TEST_CASE("who cannot come on a day is not free then, nor those they bring; taken back, they are") {
  const BookFolder folder;
  Book book(folder.path);
  const std::string id = accepted_ada(book);
  const auto before = book.state();
  Notice away;
  away.day = day("2027-04-17");
  away.cannot_come = true;
  const Kept given = kept(book.change(give_notice(*before, *before->sign_up(id), away, kNoon + 6)));
  // free on all of the two days, so the other one stays
  const std::vector<FreeTime> other_day = {free_on("2027-04-18")};
  for (const char* one : {"ada-quill", "tiny-quill"}) {
    REQUIRE(person(*book.state(), one)->free.has_value());
    CHECK(*person(*book.state(), one)->free == other_day);
  }
  CHECK(book.state()->sign_up(id)->free == other_day);
  CHECK_FALSE(person(*book.state(), "bo")->free);

  // both days: never free, which is not the same as always
  away.day = day("2027-04-18");
  const Kept second =
      kept(book.change(give_notice(*book.state(), *book.state()->sign_up(id), away, kNoon + 7)));
  REQUIRE(person(*book.state(), "ada-quill")->free.has_value());
  CHECK(person(*book.state(), "ada-quill")->free->empty());

  // a friend's notice is not what the organiser's undo takes back (that is the accepting)
  kept(book.undo_revision(second.revision, id, kNoon + 8));
  CHECK(*person(*book.state(), "ada-quill")->free == other_day);
  CHECK(book.state()->sign_up(id)->notices.size() == 1);
  kept(book.undo_revision(given.revision, id, kNoon + 9));
  CHECK(same_json(*book.state()->production_document, *before->production_document));
  CHECK(*book.state()->sign_up(id) == *before->sign_up(id));
}

TEST_SUITE_END();

}  // namespace
}  // namespace gp
