#pragma once

#include <string>
#include <string_view>

// Random names and secrets, and passphrases. Only secrets.cpp and sessions.cpp know libsodium.

namespace gp {

/// 128 random bits or more as base64url without padding: links, cookies, form keys.
std::string new_secret();
/// Whether a text looks like one of new_secret().
bool looks_like_secret(std::string_view text);
/// A short random id for addresses, [a-z0-9]{10}; no secret.
std::string new_id();

/// Argon2id by libsodium, its parameters inside. Takes some 50 ms and 19 MiB.
std::string hash_passphrase(const std::string& passphrase);
bool passphrase_right(const std::string& hash, const std::string& given);
/// Why a passphrase will not do, in words; empty: it will. At least 8 characters, none of the 3,000
/// commonest, not the film's title.
std::string passphrase_fault(const std::string& passphrase, const std::string& title);
/// Five or six common words, for who has none.
std::string invented_passphrase();

/// A code for helpers, "k7mf-3xqd": 39 bits, easily typed.
std::string invented_code();
/// As typed, without blanks and hyphens, in lower case: what is hashed.
std::string plain_code(std::string_view given);

/// HMAC-SHA-256 (RFC 2104) of a text, base64url. \param key  32 bytes
std::string keyed_hash(std::string_view key, std::string_view text);
/// Compares in a time that does not tell where two texts differ.
bool same_secret(std::string_view a, std::string_view b);

}  // namespace gp
