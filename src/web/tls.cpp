#include "web/tls.h"

#include "base/errors.h"
#include "base/files.h"

#include <algorithm>
#include <array>
#include <memory>
#include <vector>

#include <arpa/inet.h>
#include <openssl/bio.h>
#include <openssl/ec.h>
#include <openssl/err.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/ssl.h>
#include <openssl/x509.h>
#include <openssl/x509v3.h>
#include <sys/stat.h>

namespace gp {
namespace {

constexpr long kDays = 397;  // browsers take no longer ones
constexpr long kDaySeconds = 24L * 60 * 60;
constexpr long kLeastDaysLeft = 30;

struct FreeIt {
  void operator()(EVP_PKEY* p) const { EVP_PKEY_free(p); }
  void operator()(X509* p) const { X509_free(p); }
  void operator()(BIO* p) const { BIO_free(p); }
  void operator()(X509_EXTENSION* p) const { X509_EXTENSION_free(p); }
};
template <class T>
using Owned = std::unique_ptr<T, FreeIt>;

[[noreturn]] void certificate_failed(const std::string& what) {
  std::array<char, 256> text{};
  ERR_error_string_n(ERR_get_error(), text.data(), text.size());
  ERR_clear_error();
  throw WorldError(what + ": " + text.data());
}

bool is_address(const std::string& name) {
  std::array<unsigned char, 16> bytes{};
  return ::inet_pton(AF_INET, name.c_str(), bytes.data()) == 1 ||
         ::inet_pton(AF_INET6, name.c_str(), bytes.data()) == 1;
}

Owned<X509> read_certificate(const std::string& path) {
  const Owned<BIO> file(BIO_new_file(path.c_str(), "r"));
  Owned<X509> out(file ? PEM_read_bio_X509(file.get(), nullptr, nullptr, nullptr) : nullptr);
  ERR_clear_error();
  return out;
}

/// Whether it is good for all the names and for some weeks.
bool still_fits(const std::string& certificate,
                const std::string& key,
                const std::vector<std::string>& names) {
  const Owned<X509> read = read_certificate(certificate);
  const Owned<BIO> key_file(BIO_new_file(key.c_str(), "r"));
  if (!read || !key_file) return false;
  const Owned<EVP_PKEY> private_key(
      PEM_read_bio_PrivateKey(key_file.get(), nullptr, nullptr, nullptr));
  if (!private_key || X509_check_private_key(read.get(), private_key.get()) != 1) return false;
  int days = 0;
  int seconds = 0;
  if (ASN1_TIME_diff(&days, &seconds, nullptr, X509_get0_notAfter(read.get())) != 1 ||
      days < kLeastDaysLeft) {
    return false;
  }
  return std::all_of(names.begin(), names.end(), [&](const std::string& name) {
    return is_address(name)
               ? X509_check_ip_asc(read.get(), name.c_str(), 0) == 1
               : X509_check_host(read.get(), name.c_str(), name.size(), 0, nullptr) == 1;
  });
}

void add_extension(X509* certificate, int kind, const std::string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, certificate, certificate, nullptr, nullptr, 0);
  const Owned<X509_EXTENSION> extension(
      X509V3_EXT_conf_nid(nullptr, &context, kind, value.c_str()));
  if (!extension || X509_add_ext(certificate, extension.get(), -1) != 1) {
    certificate_failed("cannot make a certificate; give one with --certificate and --key");
  }
}

std::string bytes_of(BIO* memory) {
  char* data = nullptr;
  const long size = BIO_get_mem_data(memory, &data);
  return {data, static_cast<std::size_t>(size)};
}

void write_private(const std::string& path, const std::string& bytes) {
  const mode_t before = ::umask(077);
  try {
    Disk().write(path, bytes);
  } catch (...) {
    ::umask(before);
    throw;
  }
  ::umask(before);
  ::chmod(path.c_str(), S_IRUSR | S_IWUSR);
}

}  // namespace

TlsContext::TlsContext(const std::string& certificate, const std::string& key)
    : context_(SSL_CTX_new(TLS_server_method())) {
  if (context_ == nullptr) certificate_failed("cannot start TLS");
  SSL_CTX_set_min_proto_version(context_, TLS1_2_VERSION);
  SSL_CTX_set_options(context_, SSL_OP_NO_RENEGOTIATION | SSL_OP_NO_COMPRESSION);
  SSL_CTX_set_mode(context_,
                   SSL_MODE_ENABLE_PARTIAL_WRITE | SSL_MODE_ACCEPT_MOVING_WRITE_BUFFER |
                       SSL_MODE_RELEASE_BUFFERS);
  const bool right = SSL_CTX_use_certificate_chain_file(context_, certificate.c_str()) == 1 &&
                     SSL_CTX_use_PrivateKey_file(context_, key.c_str(), SSL_FILETYPE_PEM) == 1 &&
                     SSL_CTX_check_private_key(context_) == 1;
  if (!right) {
    SSL_CTX_free(context_);
    certificate_failed("cannot use the certificate " + certificate + " with the key " + key +
                       "; give two PEM files that belong together");
  }
}

TlsContext::~TlsContext() {
  SSL_CTX_free(context_);
}

ssl_st* TlsContext::begin(int socket) const {
  SSL* ssl = SSL_new(context_);
  if (ssl == nullptr) return nullptr;
  SSL_set_fd(ssl, socket);
  SSL_set_accept_state(ssl);
  return ssl;
}

bool make_certificate(const std::string& certificate,
                      const std::string& key,
                      const std::vector<std::string>& names) {
  if (still_fits(certificate, key, names)) return false;
  const std::string failed = "cannot make a certificate; give one with --certificate and --key";
  const Owned<EVP_PKEY> pair(EVP_EC_gen("P-256"));
  const Owned<X509> made(X509_new());
  if (!pair || !made) certificate_failed(failed);
  X509_set_version(made.get(), X509_VERSION_3);
  std::array<unsigned char, 8> serial{};
  RAND_bytes(serial.data(), static_cast<int>(serial.size()));
  std::uint64_t number = 1;
  for (const unsigned char byte : serial) number = (number << 8U) | byte;
  ASN1_INTEGER_set_uint64(X509_get_serialNumber(made.get()), number >> 1U);
  X509_gmtime_adj(X509_getm_notBefore(made.get()), -kDaySeconds);  // clocks differ
  X509_gmtime_adj(X509_getm_notAfter(made.get()), (kDays - 1) * kDaySeconds);
  X509_set_pubkey(made.get(), pair.get());
  X509_NAME* subject = X509_get_subject_name(made.get());
  static constexpr std::string_view kName = "greasepaint pages";
  X509_NAME_add_entry_by_txt(subject,
                             "CN",
                             MBSTRING_UTF8,
                             reinterpret_cast<const unsigned char*>(kName.data()),
                             static_cast<int>(kName.size()),
                             -1,
                             0);
  X509_set_issuer_name(made.get(), subject);
  std::string good_for;
  for (const std::string& name : names) {
    good_for +=
        (good_for.empty() ? "" : ",") + std::string(is_address(name) ? "IP:" : "DNS:") + name;
  }
  add_extension(made.get(), NID_subject_alt_name, good_for);
  add_extension(made.get(), NID_basic_constraints, "critical,CA:FALSE");
  add_extension(made.get(), NID_key_usage, "critical,digitalSignature");
  add_extension(made.get(), NID_ext_key_usage, "serverAuth");
  if (X509_sign(made.get(), pair.get(), EVP_sha256()) == 0) certificate_failed(failed);

  const Owned<BIO> key_text(BIO_new(BIO_s_mem()));
  const Owned<BIO> certificate_text(BIO_new(BIO_s_mem()));
  if (PEM_write_bio_PrivateKey(key_text.get(), pair.get(), nullptr, nullptr, 0, nullptr, nullptr) !=
          1 ||
      PEM_write_bio_X509(certificate_text.get(), made.get()) != 1) {
    certificate_failed(failed);
  }
  write_private(key, bytes_of(key_text.get()));
  write_private(certificate, bytes_of(certificate_text.get()));
  return true;
}

std::string certificate_digest(const std::string& certificate) {
  const Owned<X509> read = read_certificate(certificate);
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned size = 0;
  if (!read || X509_digest(read.get(), EVP_sha256(), digest.data(), &size) != 1) {
    throw WorldError("cannot read the certificate " + certificate + "; give a PEM file");
  }
  static constexpr std::string_view kDigits = "0123456789ABCDEF";
  std::string out;
  for (unsigned i = 0; i < size; ++i) {
    if (i > 0) out += ':';
    out += kDigits[digest.at(i) >> 4U];
    out += kDigits[digest.at(i) & 15U];
  }
  return out;
}

}  // namespace gp
