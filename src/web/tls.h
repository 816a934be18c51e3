#pragma once

#include <string>
#include <vector>

struct ssl_ctx_st;
struct ssl_st;

namespace gp {

/// Our end of TLS 1.2 or newer.
class TlsContext {
 public:
  /// \throws WorldError  a file is missing, no PEM, or the key is another certificate's
  TlsContext(const std::string& certificate, const std::string& key);
  ~TlsContext();
  TlsContext(const TlsContext&) = delete;
  TlsContext& operator=(const TlsContext&) = delete;
  /// A new connection on a socket that does not block.
  [[nodiscard]] ssl_st* begin(int socket) const;

 private:
  ssl_ctx_st* context_;
};

/// Makes a certificate for oneself (ECDSA on P-256, valid for 397 days) and its key, both PEM with
/// mode 0600, where they are missing, about to end, or for other names. What stands there and fits
/// is used again, so that a phone that was told to trust it goes on trusting it.
/// \param names  host names and IP addresses it is good for
/// \return whether a new one was made
/// \throws WorldError  it could not be made or written
bool make_certificate(const std::string& certificate,
                      const std::string& key,
                      const std::vector<std::string>& names);
/// SHA-256 of the certificate, "AB:CD:…", to be compared on a phone. \throws WorldError
std::string certificate_digest(const std::string& certificate);

}  // namespace gp
