#pragma once

#include "store/book.h"
#include "web/secrets.h"

#include <memory>
#include <optional>
#include <string>

namespace gp {

/// Who is logged in, who may guess again, and the secrets behind forms. Sessions live in memory:
/// they end with the server, after kIdle without a request, after kLongest at the latest, and when
/// the passphrase or the code they were opened with is changed.
/// Threads: any.
class Sessions {
 public:
  static constexpr UnixTime kIdle = 2 * 60 * 60;      ///< [s]
  static constexpr UnixTime kLongest = 24 * 60 * 60;  ///< [s]

  /// \param server_key  32 random bytes kept in the book, so that forms outlive a restart
  explicit Sessions(Book& book);
  ~Sessions();
  Sessions(const Sessions&) = delete;
  Sessions& operator=(const Sessions&) = delete;

  enum class Role { organiser, door };
  enum class Try { let_in, wrong, too_often };
  struct Entry {
    Try result = Try::wrong;
    std::string cookie;  ///< of the new session; the old one of this browser is dead
    UnixTime wait = 0;   ///< [s] until the next try, where too_often
  };
  /// Checks the passphrase or the door code (memory-hard hash, constant time). At most 5 wrong
  /// tries in 15 minutes from one address, and a growing delay over all; never a lock for good.
  Entry log_in(Role role,
               const std::string& secret,
               const std::string& address,
               const std::string& old_cookie,
               UnixTime now);
  void log_out(const std::string& cookie);
  [[nodiscard]] std::optional<Role> role_of(const std::string& cookie, UnixTime now);

  /// The secret for the forms of one browser, from its visitor cookie: HMAC with the server's key.
  [[nodiscard]] std::string csrf_for(const std::string& visitor) const;
  [[nodiscard]] bool csrf_right(const std::string& visitor, const std::string& given) const;

  /// At most so many sign-ups an hour from one address (a household shares one); false: too many.
  [[nodiscard]] bool may_sign_up(const std::string& address, UnixTime now);
  /// 30 unless set; loopback and a school's one address may need more.
  void set_most_sign_ups(std::size_t an_hour);

 private:
  class Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace gp
