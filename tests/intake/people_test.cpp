#include "base/random.h"
#include "intake/lists.h"
#include "intake/people_merge.h"
#include "model/read_production.h"
#include "support/random_production.h"
#include "support/seed.h"

#include <chrono>
#include <string>
#include <variant>

#include <doctest/doctest.h>

using namespace gp;

namespace {

PeopleList read(const std::string& text, const ListWishes& wishes = {}) {
  return read_people_list(text, "people.csv", wishes);
}

std::vector<PersonField> fields_of(const PeopleList& list) {
  std::vector<PersonField> out;
  for (const PeopleColumn& column : list.columns.columns) out.push_back(column.field);
  return out;
}

Production production_of(const std::string& people) {
  const auto read = read_production(
      R"({"greasepaint": 1, "title": "Kettle", "days": [{"date": "2027-04-17"}], "people": [)" +
      people + "]}");
  REQUIRE(std::holds_alternative<Production>(read));
  return std::get<Production>(read);
}

PeopleMerge merge(const Production& production, const std::string& csv, MergeWishes wishes = {}) {
  const PeopleList list = read(csv);
  REQUIRE(list.faults.empty());
  return merge_people(production, list.people.people, wishes);
}

const std::string kNoor =
    R"({"id": "noor", "name": "Noor Haddad", "phone": "+44 7700 900123", "email": "noor@example.org", "can": ["paint"], "no": ["water"]})";

}  // namespace

TEST_SUITE("intake/people") {
  TEST_CASE("columns are known by their headers, in any order and several languages") {
    using enum PersonField;
    CHECK(fields_of(
              read("E-mail Address,Full Name,Mobile,Shoe size\na@b.org,Bo,07700 900001,41\n")) ==
          std::vector<PersonField>{email, name, phone, none});
    CHECK(fields_of(read("Nachname;Vorname;Telefon;Geburtsdatum\nLi;Bo;07700 900001;3.4.2015\n")) ==
          std::vector<PersonField>{family_name, given_name, phone, born});
    // "nom" is the family's name beside "prénom", and the whole name alone
    CHECK(fields_of(read("Nom,Pr\xC3\xA9nom\nLi,Bo\n")) ==
          std::vector<PersonField>{family_name, given_name});
    CHECK(fields_of(read("Nom,Courriel\nBo Li,b@example.org\n")) ==
          std::vector<PersonField>{name, email});
    // a number and a body's weight are no answers of ours
    CHECK(fields_of(read("No,Name,Weight\n1,Bo,70\n")) ==
          std::vector<PersonField>{none, name, none});
  }

  TEST_CASE("a table without a header is known by what stands in it") {
    const PeopleList list =
        read("Bo Li,07700 900001,bo@example.org\nAda,07700 900002,a@example.org\n");
    CHECK_FALSE(list.columns.has_header);
    CHECK(fields_of(list) ==
          std::vector<PersonField>{PersonField::name, PersonField::phone, PersonField::email});
    CHECK(list.people.people.size() == 2);
  }

  TEST_CASE("what the user says of the columns counts before every guess") {
    ListWishes wishes;
    wishes.columns = {{"name", "2"}, {"phone", "tel (home)"}, {"none", "1"}};
    const PeopleList list =
        read("Name,Stage name,Tel (work),Tel (home)\nBo,Lamp,111111111,222222222\n", wishes);
    REQUIRE(list.people.people.size() == 1);
    CHECK(list.people.people[0].person.name == "Lamp");
    CHECK(list.people.people[0].person.phone == "222222222");
    wishes.columns = {{"name", "9"}, {"nmae", "1"}};
    CHECK(read("Name\nBo\n", wishes).faults.size() == 2);
    CHECK(read("Colour,Size\nred,4\n").faults.size() == 1);  // nobody's name is in it
  }

  TEST_CASE("a column twice: the second counts where the first says nothing, and is told else") {
    const PeopleList list =
        read("Name,Phone,Phone,Name\nBo,,222222222,Boris\nAda,111111111,333333333,Ada\n");
    REQUIRE(list.people.people.size() == 2);
    CHECK(list.columns.columns[2].again);
    CHECK(list.people.people[0].person.phone == "222222222");
    CHECK(list.people.people[1].person.phone == "111111111");
    REQUIRE(list.people.left_out.size() == 2);
    CHECK(list.people.left_out[0].text == "Boris");
    CHECK(list.people.left_out[1].text == "333333333");
  }

  TEST_CASE("bad rows are told by line and the rest is kept") {
    const PeopleList list = read(
        "Name,Phone\n"            // 1
        "Bo,1111111\n"            // 2
        "Li, the cook,2222222\n"  // 3: a comma too many
        ",3333333\n"              // 4: no name
        "Ada\n"                   // 5: too few
        "\"Half,4444444\n"        // 6: a mark never closed
        ",\n"                     // 7: nothing at all
        "Eve,5555555,,\n");       // 8: empty cells behind do no harm
    REQUIRE(list.people.people.size() == 2);
    CHECK(list.people.people[0].person.name == "Bo");
    CHECK(list.people.people[1].person.name == "Eve");
    std::vector<std::size_t> lines;
    for (const BadLine& one : list.people.bad) lines.push_back(one.line);
    CHECK(lines == std::vector<std::size_t>{3, 4, 5, 6});
  }

  TEST_CASE("a value that cannot be read is told and its person kept") {
    const PeopleList list = read(
        "Name,Born,Free,Language,Coming\n"
        "Bo,3/4/2015,weekends,klingonese-x-,perhaps so\n");
    REQUIRE(list.people.people.size() == 1);
    CHECK(list.people.people[0].person == [] {
      Person person;
      person.name = "Bo";
      return person;
    }());
    CHECK(list.people.left_out.size() == 4);
  }

  TEST_CASE("a date with slashes is read as the others of its column can only be") {
    const PeopleList day = read("Name,Born\nBo,3/4/2015\nAda,25/12/2014\n");
    CHECK(day.people.people[0].person.born ==
          Date(std::chrono::year(2015), std::chrono::month(4), std::chrono::day(3)));
    const PeopleList month = read("Name,Born\nBo,3/4/2015\nAda,12/25/2014\n");
    CHECK(month.people.people[0].person.born ==
          Date(std::chrono::year(2015), std::chrono::month(3), std::chrono::day(4)));
  }

  // The same list in each encoding; bytes by Python's codecs: "Zoë Łódź" cannot be Latin-1, so that
  // one has "Zoë".
  TEST_CASE("every usual encoding is read, named or not") {
    const std::string utf8 = "Name\nZo\xC3\xAB\n";
    std::string le;
    std::string be;
    for (const char16_t c : std::u16string(u"Name\nZo\u00EB\n")) {
      le += {static_cast<char>(c & 0xFF), static_cast<char>(c >> 8)};
      be += {static_cast<char>(c >> 8), static_cast<char>(c & 0xFF)};
    }
    const std::string latin = "Name\nZo\xEB\n";
    struct One {
      std::string bytes, named, told;
      bool guessed;
    };
    for (const One& one : {One{utf8, "", "UTF-8", false},
                           One{"\xEF\xBB\xBF" + utf8, "", "UTF-8", false},
                           One{"\xFF\xFE" + le, "", "UTF-16LE", false},
                           One{"\xFE\xFF" + be, "", "UTF-16BE", false},
                           One{le, "", "UTF-16LE", true},
                           One{be, "", "UTF-16BE", true},
                           One{latin, "", "windows-1252", true},
                           One{latin, "ISO-8859-1", "ISO-8859-1", false},
                           One{"\xEF\xBB\xBF" + utf8, "UTF-8", "UTF-8", false},
                           One{"\xFF\xFE" + le, "UTF-16", "UTF-16", false}}) {
      CAPTURE(one.told);
      CAPTURE(one.named);
      ListWishes wishes;
      wishes.encoding = one.named;
      const PeopleList list = read(one.bytes, wishes);
      REQUIRE(list.people.people.size() == 1);
      CHECK(list.people.people[0].person.name == "Zo\xC3\xAB");
      CHECK(list.form.encoding == one.told);
      CHECK(list.form.encoding_guessed == one.guessed);
      CHECK(list.form.broken == 0);
    }
    ListWishes wrong;
    wrong.encoding = "UTF-8";
    CHECK(read(latin, wrong).form.broken == 1);
    wrong.encoding = "no-such-thing";
    CHECK(read(utf8, wrong).faults.size() == 1);
  }

  TEST_CASE("a picture or an empty file is refused in words") {
    std::string picture = "\x89PNG\r\n\x1A\n";
    for (int i = 0; i < 1000; ++i) picture += std::string("\0\0\x01\x02", 4);
    CHECK(read(picture).faults.size() == 1);
    CHECK(read("").faults.size() == 1);
    CHECK(read("Name,Phone\n").faults.size() == 1);
  }

  TEST_CASE("the perhaps-same are shown with what differs, and nothing is merged unasked") {
    const Production there = production_of(kNoor);
    const PeopleMerge by_name = merge(there, "Name,Phone\nHADDAD Noor,07700 900999\n");
    CHECK(by_name.production == there);
    REQUIRE(by_name.pairs.size() == 1);
    CHECK(by_name.pairs[0].same == std::vector<std::string>{"name"});
    REQUIRE(by_name.pairs[0].fields.size() == 1);
    CHECK(by_name.pairs[0].fields[0].there == "+44 7700 900123");
    CHECK(by_name.pairs[0].fields[0].comes == "07700 900999");
    CHECK(by_name.left_out.size() == 2);  // the name and the phone: nothing is lost unseen

    const PeopleMerge by_phone = merge(there, "Name,Phone\nSami,07700 900123\n");
    REQUIRE(by_phone.pairs.size() == 1);
    CHECK(by_phone.pairs[0].same == std::vector<std::string>{"phone"});
    CHECK_FALSE(by_phone.pairs[0].names_agree);
    const PeopleMerge by_mail = merge(there, "Name,Mail\nN. H.,NOOR@example.org\n");
    REQUIRE(by_mail.pairs.size() == 1);
    CHECK(by_mail.pairs[0].same == std::vector<std::string>{"mail"});
  }

  TEST_CASE("somebody who is there with all of it needs no decision") {
    const PeopleMerge again = merge(production_of(kNoor), "Name,Phone\nNoor Haddad,07700 900123\n");
    CHECK(again.pairs.empty());
    CHECK(again.there_already == 1);
    CHECK(again.added.empty());
  }

  TEST_CASE("fill takes only what is missing, replace takes what the list says, a no stays") {
    const Production there = production_of(kNoor);
    const std::string list =
        "Name,Phone,Food,Can,Will not\nNoor Haddad,07700 900999,vegan,dance,fire\n";
    MergeWishes fill;
    fill.same = IfThere::fill;
    const PeopleMerge filled = merge(there, list, fill);
    const Person& one = filled.production.people[PersonId(0)];
    CHECK(one.phone == "+44 7700 900123");
    CHECK(one.food == "vegan");
    CHECK(one.can == Tags{"paint", "dance"});
    CHECK(one.no == Tags{"water", "fire"});
    REQUIRE(filled.left_out.size() == 1);
    CHECK(filled.left_out[0].text == "07700 900999");
    CHECK(filled.changed.size() == 1);

    MergeWishes replace;
    replace.same = IfThere::replace;
    const Person other = merge(there, list, replace).production.people[PersonId(0)];
    CHECK(other.phone == "07700 900999");
    CHECK(other.can == Tags{"dance"});
    CHECK(other.no == Tags{"water", "fire"});
  }

  TEST_CASE("a mother's phone does not make her son into her, unless that one is decided") {
    MergeWishes wishes;
    wishes.same = IfThere::fill;
    const Production there = production_of(kNoor);
    const std::string list = "Name,Phone,Food\nSami Haddad,07700 900123,nuts\n";
    const PeopleMerge all = merge(there, list, wishes);
    CHECK(all.pairs.at(0).done == IfThere::hold);
    CHECK(all.production == there);
    wishes.decided[1] = IfThere::add;
    const PeopleMerge decided = merge(there, list, wishes);
    CHECK(decided.added.size() == 1);
    CHECK(decided.production.people[PersonId(1)].id == "sami-haddad");
    wishes.decided[7] = IfThere::add;
    CHECK(merge(there, list, wishes).unknown_decisions == std::vector<std::size_t>{7});
  }

  TEST_CASE("two of one list are compared too, and ids never collide") {
    const PeopleMerge twice = merge(production_of(""), "Name,Phone\nBo,1111111\nBo,2222222\n");
    CHECK(twice.added.size() == 1);
    CHECK(twice.pairs.size() == 1);
    MergeWishes add;
    add.same = IfThere::add;
    const PeopleMerge both = merge(production_of(""), "Name,Phone\nBo,1111111\nBo,2222222\n", add);
    CHECK(both.production.people[PersonId(1)].id == "bo-2");
  }

  TEST_CASE("whoever stands in a list was asked; they have not said yes") {
    const PeopleMerge asked = merge(production_of(""), "Name,Coming\nBo,\nAda,yes\n");
    CHECK(asked.production.people[PersonId(0)].answer == Answer::asked);
    CHECK(asked.production.people[PersonId(1)].answer == Answer::yes);
  }

  TEST_CASE("guardians are found by name or id, also below; circles and strangers are told") {
    const PeopleMerge found =
        merge(production_of(kNoor),
              "Name,Guardian\nSami,Ada Berg\nAda Berg,\nRim,noor\nTom,Nobody Here\nX,Y\nY,X\n");
    const auto& people = found.production.people;
    CHECK(people[PersonId(1)].guardian == PersonId(2));
    CHECK(people[PersonId(3)].guardian == PersonId(0));
    CHECK_FALSE(people[PersonId(4)].guardian.valid());
    REQUIRE(found.left_out.size() == 2);
    CHECK(found.left_out[0].text == "Nobody Here");
  }

  TEST_CASE("what is exported and imported again is the same people") {
    for (std::uint64_t i = 0; i < 60; ++i) {
      const std::uint64_t seed = test::seed() + i;
      CAPTURE(seed);
      const auto made =
          read_production(test::random_production(seed, test::ProductionSize::medium()));
      REQUIRE(std::holds_alternative<Production>(made));
      const Production& production = std::get<Production>(made);
      const PeopleList list = read(people_csv(production));
      CHECK(list.people.bad.empty());
      CHECK(list.people.left_out.empty());
      Production empty = production;
      empty.people = {};
      MergeWishes wishes;
      wishes.same = IfThere::add;
      wishes.answer = Answer::no;
      const PeopleMerge back = merge_people(empty, list.people.people, wishes);
      CHECK(back.production.people == production.people);
      // and into the production itself nothing comes
      const PeopleMerge again = merge_people(production, list.people.people, {});
      CHECK(again.production == production);
    }
  }

  TEST_CASE("texts that are hard on a table come back as they were") {
    Production production = production_of(kNoor);
    Person& person = production.people[PersonId(0)];
    person.name = "=SUM(A1) \"the sum\"";
    person.phone = "+44 7700 900123";
    person.food = "-no nuts\r\n'=quoted\n, ; \\ end ";
    person.skin = "@";
    person.can = {"fog, thick", "a\\b", "semi;colon"};
    person.free = std::vector<FreeTime>{};
    person.weight = 1500;
    person.sizes = {{"head_cm", 57.5}, {"foot", 41}};
    person.turnout = 0.1;
    const std::string csv = people_csv(production);
    for (const CsvRow& row : read_csv(csv).rows) {
      for (const std::string& cell : row.cells) {
        CHECK((cell.empty() || std::string("=+-@\t\r").find(cell[0]) == std::string::npos));
      }
    }
    Production empty = production;
    empty.people = {};
    CHECK(merge_people(empty, read(csv).people.people, {}).production.people == production.people);
  }

  TEST_CASE("fifty thousand rows are read and compared in bounded time") {
    std::string csv = "Name,Phone,E-mail,Colour\n";
    for (int i = 0; i < 50'000; ++i) {
      const std::string number = std::to_string(100'000 + i);
      csv += "Person " + number + ",0207946" + number + ",p" + number + "@example.org,red\n";
    }
    const auto begin = std::chrono::steady_clock::now();
    const PeopleList list = read(csv);
    CHECK(list.people.people.size() == 50'000);
    CHECK(list.people.left_out.size() == 50'000);
    const PeopleMerge merged = merge_people(production_of(""), list.people.people, {});
    // a production holds 5,000 people (docs/production-format.md, "Limits")
    CHECK(merged.added.size() == 5000);
    CHECK(merged.no_room == 45'000);
    // all with one phone: no square either
    std::string one = "Name,Phone\n";
    for (int i = 0; i < 50'000; ++i) one += "P" + std::to_string(i) + ",07700 900123\n";
    CHECK(merge_people(production_of(""), read(one).people.people, {}).pairs.size() == 49'999);
    // measured: about 1 s here; a square would take hours
    CHECK(std::chrono::steady_clock::now() - begin < std::chrono::seconds(120));
  }
}
