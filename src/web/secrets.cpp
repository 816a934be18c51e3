#include "web/secrets.h"

#include "base/errors.h"
#include "base/utf8.h"
#include "text/clean.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <vector>

#include <sodium.h>

namespace gp {
namespace {

constexpr std::size_t kSecretBytes = 18;  // 144 bits: 24 letters without padding
constexpr std::size_t kIdLength = 10;

// OWASP, Password Storage Cheat Sheet: Argon2id with 19 MiB, two passes, one lane
constexpr unsigned long long kPasses = 2;
constexpr std::size_t kMemory = std::size_t{19} * 1024 * 1024;

void must_start() {
  if (sodium_init() < 0) {
    throw WorldError(
        "cannot make random numbers; start again when the system has finished starting: libsodium "
        "would not start");
  }
}

std::string base64url(const unsigned char* bytes, std::size_t size) {
  std::string out(sodium_base64_ENCODED_LEN(size, sodium_base64_VARIANT_URLSAFE_NO_PADDING), '\0');
  sodium_bin2base64(out.data(), out.size(), bytes, size, sodium_base64_VARIANT_URLSAFE_NO_PADDING);
  out.resize(out.size() - 1);  // the closing zero
  return out;
}

}  // namespace

std::string new_secret() {
  must_start();
  std::array<unsigned char, kSecretBytes> bytes{};
  randombytes_buf(bytes.data(), bytes.size());
  return base64url(bytes.data(), bytes.size());
}

bool looks_like_secret(std::string_view text) {
  return text.size() == kSecretBytes * 4 / 3 &&
         std::all_of(text.begin(), text.end(), [](unsigned char c) {
           return (c < 0x80 && std::isalnum(c) != 0) || c == '-' || c == '_';
         });
}

std::string new_id() {
  must_start();
  static constexpr std::string_view kLetters = "abcdefghijklmnopqrstuvwxyz0123456789";
  std::string id;
  for (std::size_t i = 0; i < kIdLength; ++i) {
    id += kLetters[randombytes_uniform(static_cast<std::uint32_t>(kLetters.size()))];
  }
  return id;
}

std::string hash_passphrase(const std::string& passphrase) {
  must_start();
  std::string hash(crypto_pwhash_STRBYTES, '\0');
  if (crypto_pwhash_str_alg(hash.data(),
                            passphrase.data(),
                            passphrase.size(),
                            kPasses,
                            kMemory,
                            crypto_pwhash_ALG_ARGON2ID13) != 0) {
    throw WorldError(
        "cannot keep the passphrase; close other programs: 19 MiB of memory are free "
        "nowhere");
  }
  hash.resize(hash.find('\0'));
  return hash;
}

bool passphrase_right(const std::string& hash, const std::string& given) {
  must_start();
  if (hash.size() >= crypto_pwhash_STRBYTES) return false;
  return crypto_pwhash_str_verify(hash.c_str(), given.data(), given.size()) == 0;
}

std::string keyed_hash(std::string_view key, std::string_view text) {
  must_start();
  crypto_auth_hmacsha256_state state;
  crypto_auth_hmacsha256_init(
      &state, reinterpret_cast<const unsigned char*>(key.data()), key.size());
  crypto_auth_hmacsha256_update(
      &state, reinterpret_cast<const unsigned char*>(text.data()), text.size());
  std::array<unsigned char, crypto_auth_hmacsha256_BYTES> out{};
  crypto_auth_hmacsha256_final(&state, out.data());
  return base64url(out.data(), out.size());
}

bool same_secret(std::string_view a, std::string_view b) {
  return a.size() == b.size() && sodium_memcmp(a.data(), b.data(), a.size()) == 0;
}

}  // namespace gp
