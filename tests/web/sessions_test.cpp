#include "web/sessions.h"

#include <set>

#include "organiser_site.h"
#include <doctest/doctest.h>

using gp::Sessions;
using gp::test::kNow;
using gp::test::OrganiserSite;

namespace {

constexpr auto kOrganiser = Sessions::Role::organiser;
const std::string kPassphrase = "three wet herrings";

/// A book whose passphrase is set, and what guards it.
struct Guarded {
  Guarded() {
    static const std::string kHash = gp::hash_passphrase(kPassphrase);
    pages.book().set_secret("passphrase", kHash);
  }
  OrganiserSite pages;
  Sessions sessions{pages.book()};
  Sessions::Entry log_in(const std::string& secret, const std::string& address, gp::UnixTime now) {
    return sessions.log_in(kOrganiser, secret, address, "", now);
  }
};

}  // namespace

TEST_SUITE("web/sessions") {
  TEST_CASE("the sixth try within a quarter of an hour is refused, for that address alone") {
    Guarded book;
    for (int i = 0; i < 5; ++i) {
      CHECK(book.log_in("wrong", "10.0.0.1", kNow + i).result == Sessions::Try::wrong);
    }
    const auto sixth = book.log_in(kPassphrase, "10.0.0.1", kNow + 10);
    CHECK(sixth.result == Sessions::Try::too_often);
    CHECK(sixth.wait == 15 * 60 - 10);  // the first wrong one was 10 s ago
    CHECK(book.log_in(kPassphrase, "10.0.0.2", kNow + 10).result == Sessions::Try::let_in);
    // never for good
    CHECK(book.log_in(kPassphrase, "10.0.0.1", kNow + 15 * 60 + 5).result == Sessions::Try::let_in);
  }

  TEST_CASE("addresses of one network of IPv6 are one household") {
    Guarded book;
    for (int i = 0; i < 5; ++i) {
      book.log_in("wrong", "2001:db8:1:2::" + std::to_string(i + 1), kNow);
    }
    CHECK(book.log_in(kPassphrase, "2001:db8:1:2::99", kNow).result == Sessions::Try::too_often);
    CHECK(book.log_in(kPassphrase, "2001:db8:1:3::99", kNow).result == Sessions::Try::let_in);
  }

  TEST_CASE("sessions end: idle, after a day, by logging out, by a new log-in or passphrase") {
    Guarded book;
    const std::string idle = book.log_in(kPassphrase, "a", kNow).cookie;
    CHECK(book.sessions.role_of(idle, kNow + Sessions::kIdle - 1) == kOrganiser);
    CHECK_FALSE(book.sessions.role_of(idle, kNow + 2 * Sessions::kIdle).has_value());

    const std::string busy = book.log_in(kPassphrase, "a", kNow).cookie;
    for (gp::UnixTime t = 0; t < Sessions::kLongest; t += Sessions::kIdle / 2) {
      CHECK(book.sessions.role_of(busy, kNow + t) == kOrganiser);
    }
    CHECK_FALSE(book.sessions.role_of(busy, kNow + Sessions::kLongest).has_value());

    const std::string out = book.log_in(kPassphrase, "a", kNow).cookie;
    book.sessions.log_out(out);
    CHECK_FALSE(book.sessions.role_of(out, kNow).has_value());

    const std::string old = book.log_in(kPassphrase, "a", kNow).cookie;
    const auto again = book.sessions.log_in(kOrganiser, kPassphrase, "a", old, kNow);
    CHECK(again.cookie != old);
    CHECK_FALSE(book.sessions.role_of(old, kNow).has_value());
    CHECK(book.sessions.role_of(again.cookie, kNow) == kOrganiser);

    book.pages.book().set_secret("passphrase", gp::hash_passphrase("another one altogether"));
    CHECK_FALSE(book.sessions.role_of(again.cookie, kNow).has_value());
  }

  TEST_CASE("the door's code opens nothing of the organiser's, however it is typed") {
    Guarded book;
    book.pages.book().set_secret("door-code", gp::hash_passphrase(gp::plain_code("k7mf-3xqd")));
    const auto entry = book.sessions.log_in(Sessions::Role::door, "K7MF 3XQD", "a", "", kNow);
    REQUIRE(entry.result == Sessions::Try::let_in);
    CHECK(book.sessions.role_of(entry.cookie, kNow) == Sessions::Role::door);
    CHECK(book.log_in("k7mf-3xqd", "a", kNow).result == Sessions::Try::wrong);
  }

  TEST_CASE("without a passphrase or a code nobody is let in, not even with an empty one") {
    OrganiserSite pages;
    Sessions sessions(pages.book());
    CHECK(sessions.log_in(kOrganiser, "", "a", "", kNow).result == Sessions::Try::wrong);
    CHECK(sessions.log_in(Sessions::Role::door, "", "a", "", kNow).result == Sessions::Try::wrong);
  }

  TEST_CASE("a form's secret is of one browser, and outlives the server") {
    OrganiserSite pages;
    const std::string one = gp::new_secret();
    const std::string other = gp::new_secret();
    const std::string given = Sessions(pages.book()).csrf_for(one);
    const Sessions later(pages.book());
    CHECK(later.csrf_right(one, given));
    CHECK_FALSE(later.csrf_right(other, given));
    CHECK_FALSE(later.csrf_right(one, ""));
  }

  TEST_CASE("one address may sign up 30 times in an hour") {
    OrganiserSite pages;
    Sessions sessions(pages.book());
    for (int i = 0; i < 30; ++i) CHECK(sessions.may_sign_up("a", kNow + i));
    CHECK_FALSE(sessions.may_sign_up("a", kNow + 60));
    CHECK(sessions.may_sign_up("b", kNow + 60));
    CHECK(sessions.may_sign_up("a", kNow + 60 * 60 + 1));
  }
}

TEST_SUITE("web/secrets") {
  TEST_CASE("100,000 secrets: 24 letters of base64url each, none twice") {
    // 144 random bits; OWASP ASVS 5.0, 7.2.3 asks for 128
    std::set<std::string> all;
    for (int i = 0; i < 100'000; ++i) {
      const std::string secret = gp::new_secret();
      if (!gp::looks_like_secret(secret)) FAIL_CHECK(secret);
      all.insert(secret);
    }
    CHECK(all.size() == 100'000);
    CHECK_FALSE(gp::looks_like_secret("abc"));
    CHECK_FALSE(gp::looks_like_secret(std::string(23, 'a') + "="));
  }

  TEST_CASE("a passphrase is kept as Argon2id with its parameters, salted") {
    const std::string hash = gp::hash_passphrase("three wet herrings");
    // OWASP Password Storage Cheat Sheet: m = 19 MiB = 19456 KiB, t = 2, p = 1
    CHECK(hash.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"));
    CHECK(hash != gp::hash_passphrase("three wet herrings"));
    CHECK(gp::passphrase_right(hash, "three wet herrings"));
    CHECK_FALSE(gp::passphrase_right(hash, "three wet herring"));
    CHECK_FALSE(gp::passphrase_right("", ""));
  }

  TEST_CASE("short, common and obvious passphrases are refused, long ones of any kind taken") {
    const std::string title = "The Borrowed Moon";
    for (const char* bad : {"",
                            "sevench",
                            "password",
                            "Password",
                            "1qaz2wsx",
                            "qwertyuiop",
                            "the borrowed MOON",
                            "GreasePaint",
                            "aaaaaaaaaaaa"}) {
      CAPTURE(bad);
      CHECK_FALSE(gp::passphrase_fault(bad, title).empty());
    }
    for (const std::string& good : {std::string("three wet herrings"),
                                    std::string("ßäöüßäöü"),
                                    std::string(12, 'a') + "b",
                                    gp::invented_passphrase()}) {
      CAPTURE(good);
      CHECK(gp::passphrase_fault(good, title).empty());
    }
    // at least 64 characters must be possible (ASVS 6.2.9)
    std::string long_one;
    for (int i = 0; i < 16; ++i) long_one += "ab4d";
    CHECK(gp::passphrase_fault(long_one, title).empty());
  }

  TEST_CASE("the keyed hash is HMAC-SHA-256") {
    // RFC 4231, test case 2: key "Jefe", data "what do ya want for nothing?";
    // 5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843 as base64url
    CHECK(gp::keyed_hash("Jefe", "what do ya want for nothing?") ==
          "W9zBRr9gdU5qBCQmCJV1x1oAPwidJzmDnexYuWTsOEM");
  }
}
