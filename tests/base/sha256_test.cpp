#include "base/sha256.h"

#include <string>

#include <doctest/doctest.h>

// Vectors: NIST, "Cryptographic Standards and Guidelines: Examples with Intermediate Values",
// SHA-256 (the one- and two-block messages of FIPS 180-2, appendix B), and the empty message and
// the message of a million times `a` of the same collection. Held besides against coreutils'
// sha256sum when the test was written.

TEST_SUITE("base/sha256") {
  TEST_CASE("the published messages have the published digests") {
    CHECK(gp::sha256("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    CHECK(gp::sha256("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(gp::sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(gp::sha256(std::string(1'000'000, 'a')) ==
          "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
  }

  TEST_CASE("every length around the end of a block is padded right") {
    // digests of n times `x` by GNU coreutils 9.1 sha256sum; 55 bytes are the most that fit one
    // block with the length, 64 fill it
    CHECK(gp::sha256(std::string(55, 'x')) ==
          "d5e285683cd4efc02d021a5c62014694958901005d6f71e89e0989fac77e4072");
    CHECK(gp::sha256(std::string(56, 'x')) ==
          "04c26261370ee7541549d16dee320c723e3fd14671e66a099afe0a377c16888e");
    CHECK(gp::sha256(std::string(63, 'x')) ==
          "75220b47218278e656f2013bb8f0c455a25eaf01e86c64924e9d48d89776d6f2");
    CHECK(gp::sha256(std::string(64, 'x')) ==
          "7ce100971f64e7001e8fe5a51973ecdfe1ced42befe7ee8d5fd6219506b5393c");
    CHECK(gp::sha256(std::string(65, 'x')) ==
          "9537c5fdf120482f7d58d25e9ed583f52c02b4e304ea814db1633ad565aed7e9");
    CHECK(gp::sha256(std::string(119, 'x')) ==
          "000b48d4edf0fa7bee3c6236ecd2785baa5db4eeb8bb54341b029e0d9fa5fb0c");
    CHECK(gp::sha256(std::string(120, 'x')) ==
          "13f05a0b594787f5ecd315edc96141bd3243203d1b7d4f0836f37308b276ba98");
  }
}
