#include "intake/phone.h"

#include <doctest/doctest.h>

using namespace gp;

namespace {

bool same(const char* a, const char* b) {
  return same_phone(phone_form(a), phone_form(b));
}

}  // namespace

// Numbers: those that Ofcom and the North American plan keep for plays (07700 900000 to 900999,
// 555-0100 to 0199). Ways to write them: ITU-T E.123 and RFC 3966.
TEST_SUITE("intake/phone") {
  TEST_CASE("one phone written in several ways is the same") {
    CHECK(same("+44 7700 900123", "07700 900123"));
    CHECK(same("+44 (0)7700 900123", "+447700900123"));
    CHECK(same("0044 7700 900123", "(07700) 900-123"));
    CHECK(same("tel:+44-7700-900123", "+44.7700.900123"));
    CHECK(same("+1 (212) 555-0123", "212-555-0123"));
    CHECK(same("+1-418-656-9254 ext. 102", "+14186569254;ext=102"));
    CHECK(same("+353 85 123 4567", "085 1234567"));
  }

  TEST_CASE("different phones are different") {
    CHECK_FALSE(same("07700 900123", "07700 900124"));
    // the same digits at home in two countries
    CHECK_FALSE(same("+44 7700 900123", "+49 7700 900123"));
    // a longer number that ends in the same digits is none with a country code before it
    CHECK_FALSE(same("+441234567", "234567"));
    CHECK_FALSE(same("", ""));
    CHECK_FALSE(same("112", "112"));  // too short to be anybody's own
    CHECK_FALSE(same("none", "none"));
  }

  // ITU-T E.164: 1 and 7 are one digit, 44 and 49 two, 353 and 420 three.
  TEST_CASE("the country code has the length it has") {
    CHECK(phone_form("+12125550123").country == "1");
    CHECK(phone_form("+79161234567").country == "7");
    CHECK(phone_form("+447700900123").country == "44");
    CHECK(phone_form("+353851234567").country == "353");
    CHECK(phone_form("+420601123456").country == "420");
    CHECK(phone_form("+353851234567").national == "851234567");
  }
}
