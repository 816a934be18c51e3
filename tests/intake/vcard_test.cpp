#include "intake/vcard.h"

#include "intake/lists.h"

#include <string>

#include <doctest/doctest.h>

using namespace gp;

namespace {

PeopleList read(const std::string& text, const std::string& encoding = {}) {
  ListWishes wishes;
  wishes.encoding = encoding;
  return read_people_list(text, "cards.vcf", wishes);
}

std::string card(const std::string& body, const std::string& version = "4.0") {
  return "BEGIN:VCARD\r\nVERSION:" + version + "\r\n" + body + "END:VCARD\r\n";
}

bool leaves(const PeopleList& list, const std::string& field, const std::string& text) {
  for (const LeftOut& one : list.people.left_out) {
    if (one.field == field && one.text == text) return true;
  }
  return false;
}

}  // namespace

TEST_SUITE("intake/vcard") {
  // RFC 6350, section 8 (the author's card), without its key.
  TEST_CASE("the example card of RFC 6350 is read") {
    const PeopleList list =
        read(card("FN:Simon Perreault\r\n"
                  "N:Perreault;Simon;;;ing. jr,M.Sc.\r\n"
                  "BDAY:--0203\r\n"
                  "GENDER:M\r\n"
                  "LANG;PREF=1:fr\r\n"
                  "LANG;PREF=2:en\r\n"
                  "ORG;TYPE=work:Viagenie\r\n"
                  "ADR;TYPE=work:;Suite D2-630;2875 Laurier;\r\n"
                  " Quebec;QC;G1V 2M2;Canada\r\n"
                  "TEL;VALUE=uri;TYPE=\"work,voice\";PREF=1:tel:+1-418-656-9254;ext=102\r\n"
                  "TEL;VALUE=uri;TYPE=\"work,cell,voice,video,text\":tel:+1-418-262-6501\r\n"
                  "EMAIL;TYPE=work:simon.perreault@viagenie.ca\r\n"));
    REQUIRE(list.people.people.size() == 1);
    const Person& person = list.people.people[0].person;
    CHECK(person.name == "Simon Perreault");
    CHECK(person.phone == "+1-418-656-9254 ext. 102");  // PREF=1 before a cell phone
    CHECK(person.email == "simon.perreault@viagenie.ca");
    CHECK(person.language == "fr");
    CHECK_FALSE(person.born.has_value());  // --0203 has no year
    // nothing of it is dropped
    CHECK(leaves(list, "BDAY", "--0203"));
    CHECK(leaves(list, "TEL", "+1-418-262-6501"));
    CHECK(leaves(list, "ORG", "Viagenie"));
    CHECK(leaves(list, "ADR", "Suite D2-630; 2875 Laurier; Quebec; QC; G1V 2M2; Canada"));
    CHECK(leaves(list, "LANG", "en"));
    CHECK(leaves(list, "N", "Perreault; Simon; ing. jr,M.Sc."));
  }

  // RFC 2426, section 7 (the authors' cards), from memory.
  TEST_CASE("the example cards of RFC 2426 are read") {
    const PeopleList list = read(
        "BEGIN:vCard\r\nVERSION:3.0\r\nFN:Frank Dawson\r\nORG:Lotus Development Corporation\r\n"
        "ADR;TYPE=WORK,POSTAL,PARCEL:;;6544 Battleford Drive\r\n"
        " ;Raleigh;NC;27613-3502;U.S.A.\r\n"
        "TEL;TYPE=VOICE,MSG,WORK:+1-919-676-9515\r\nTEL;TYPE=FAX,WORK:+1-919-676-9564\r\n"
        "EMAIL;TYPE=INTERNET,PREF:Frank_Dawson@Lotus.com\r\n"
        "EMAIL;TYPE=INTERNET:fdawson@earthlink.net\r\n"
        "URL:http://home.earthlink.net/~fdawson\r\nEND:vCard\r\n"
        "BEGIN:vCard\r\nVERSION:3.0\r\nFN:Tim Howes\r\n"
        "TEL;TYPE=VOICE,MSG,WORK:+1-415-937-3419\r\n"
        "EMAIL;TYPE=INTERNET:howes@netscape.com\r\nEND:vCard\r\n");
    REQUIRE(list.people.people.size() == 2);
    CHECK(list.people.people[0].person.name == "Frank Dawson");
    CHECK(list.people.people[0].person.phone == "+1-919-676-9515");
    CHECK(list.people.people[0].person.email == "Frank_Dawson@Lotus.com");
    CHECK(list.people.people[1].person.name == "Tim Howes");
    CHECK(leaves(list, "TEL", "+1-919-676-9564"));  // a fax is no phone to speak on
    CHECK(leaves(list, "EMAIL", "fdawson@earthlink.net"));
    CHECK(leaves(list, "URL", "http://home.earthlink.net/~fdawson"));
  }

  // RFC 6350, section 3.2: the three ways to fold the same line.
  TEST_CASE("folded lines are one line") {
    for (const std::string note :
         {"NOTE:This is a long description that exists o\r\n n a long line.",
          "NOTE:This is a long description\r\n  that exists on a long line.",
          "NOTE:This is a long descrip\r\n tion that exists o\r\n n a long "
          "line."}) {
      CAPTURE(note);
      const CardsRead cards = read_cards(card("FN:Bo\r\n" + note + "\r\n"));
      REQUIRE(cards.cards.size() == 1);
      CHECK(cards.cards[0].properties.back().value ==
            "This is a long description that exists on a long line.");
    }
  }

  TEST_CASE("a line folded in the middle of a character is mended") {
    // "é" is C3 A9; some programs fold between the two
    const PeopleList list =
        read(card("FN:Ren\xC3\r\n \xA9"
                  "e\r\n"));
    REQUIRE(list.people.people.size() == 1);
    CHECK(list.people.people[0].person.name ==
          "Ren\xC3\xA9"
          "e");
    CHECK(list.form.encoding == "UTF-8");
  }

  // RFC 6350, section 3.4.
  TEST_CASE("backslashes are undone, and structured names parted first") {
    CHECK(card_text("Mythical Manager\\nHyjinx Software Division\\nBabsCo\\, Inc.\\n") ==
          "Mythical Manager\nHyjinx Software Division\nBabsCo, Inc.\n");
    CHECK(card_pieces("Pub\\;lic;John\\,;Q.", ';') ==
          std::vector<std::string>{"Pub;lic", "John,", "Q."});
    const PeopleList list = read(card("N:Stevenson;John;Philip,Paul;Dr.;Jr.,M.D.\r\n", "3.0"));
    REQUIRE(list.people.people.size() == 1);  // RFC 6350 section 6.2.2; no FN
    CHECK(list.people.people[0].person.name == "John Philip Paul Stevenson");
    CHECK(leaves(list, "N", "Stevenson; John; Philip,Paul; Dr.; Jr.,M.D."));
  }

  // Quoted-printable: RFC 2045, section 6.7; as version 2.1 puts it into a property.
  TEST_CASE("version 2.1 with quoted-printable, charset and bare types is read") {
    const PeopleList list = read(
        "BEGIN:VCARD\r\nVERSION:2.1\r\n"
        "N;CHARSET=UTF-8;ENCODING=QUOTED-PRINTABLE:=C5=BB=C3=B3=C5=82w;=\r\n"
        "Ma=C5=82gorzata;;;\r\n"
        "TEL;CELL;PREF:+48 601 100 100\r\n"
        "NOTE;ENCODING=QUOTED-PRINTABLE;CHARSET=ISO-8859-1:caf=E9 =3D good\r\n"
        "END:VCARD\r\n");
    REQUIRE(list.people.people.size() == 1);
    CHECK(list.people.people[0].person.name == "Ma\xC5\x82gorzata \xC5\xBB\xC3\xB3\xC5\x82w");
    CHECK(list.people.people[0].person.phone == "+48 601 100 100");
    CHECK(leaves(list, "NOTE", "caf\xC3\xA9 = good"));
  }

  TEST_CASE("groups are no part of the name, pictures are counted and left") {
    const PeopleList list =
        read(card("item1.FN:Ada\r\nitem1.TEL;TYPE=\"cell\":07700 900001\r\n"
                  "PHOTO;ENCODING=b;TYPE=JPEG:MIICajCCAdOgAwIBAgICBEUw\r\n DQYJKoZIhvcNAQEEBQAw\r\n"
                  "LOGO:http://example.org/x.png\r\n",
                  "3.0") +
             "BEGIN:VCARD\r\nVERSION:2.1\r\nN:Li;Bo\r\nPHOTO;JPEG;BASE64:\r\nAAAA\r\nBBBB==\r\n\r\n"
             "END:VCARD\r\n");
    REQUIRE(list.people.people.size() == 2);
    CHECK(list.people.people[0].person.phone == "07700 900001");
    CHECK(list.pictures == 3);
    CHECK(list.people.left_out.empty());
    CHECK(list.people.bad.empty());
  }

  TEST_CASE("half a card is told by its line and the whole ones are kept") {
    const PeopleList list = read("BEGIN:VCARD\r\nVERSION:3.0\r\nFN:Half One\r\n" +
                                 card("FN:Whole\r\n") + "BEGIN:VCARD\r\nVERSION:3.0\r\nFN:Half Tw");
    REQUIRE(list.people.people.size() == 1);
    CHECK(list.people.people[0].person.name == "Whole");
    REQUIRE(list.people.bad.size() == 2);
    CHECK(list.people.bad[0].line == 1);
    CHECK(list.people.bad[0].text == "Half One");
    CHECK(list.people.bad[1].line == 8);  // three lines, four of the whole one
    CHECK(list.people.bad[1].text == "Half Tw");
  }

  TEST_CASE("a card without a name, of a group, and text between the cards are told") {
    const PeopleList list = read(card("TEL:07700 900001\r\n") + "stray text: here\r\n" +
                                 card("KIND:group\r\nFN:The crew\r\n") + "END:VCARD\r\n" +
                                 card("FN:Bo\r\nno colon\r\n"));
    CHECK(list.people.people.size() == 1);
    REQUIRE(list.people.bad.size() == 5);
    CHECK(list.people.bad[0].why == "a card without a name");
    CHECK(list.people.bad[1].why == "text outside of any card");
    CHECK(list.people.bad[2].why == "a card that is no person's (KIND:group)");
    CHECK(list.people.bad[3].why == "an END:VCARD without its BEGIN");
    CHECK(list.people.bad[4].why == "a line without a colon");
  }

  // RFC 6350, section 6.2.5 and ISO 8601: the ways to write a full date.
  TEST_CASE("birthdays with their year are taken over") {
    for (const std::string date :
         {"19960415", "1996-04-15", "19960415T231000Z", "1996-04-15T23:10:00Z"}) {
      CAPTURE(date);
      const PeopleList list = read(card("FN:Bo\r\nBDAY:" + date + "\r\n"));
      REQUIRE(list.people.people.size() == 1);
      using namespace std::chrono;
      CHECK(list.people.people[0].person.born == Date(year(1996), month(4), day(15)));
    }
  }
}
