#include "base/errors.h"
#include "cli/commands/commands.h"
#include "sheets/poster.h"
#include "store/book.h"
#include "text/width.h"
#include "web/lan.h"
#include "web/qr.h"
#include "web/server.h"
#include "web/tls.h"

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <mutex>
#include <string>
#include <thread>
#include <vector>

#include <pthread.h>
#include <signal.h>

namespace gp {
namespace {

UnixTime clock_now() {
  return std::chrono::duration_cast<std::chrono::seconds>(
             std::chrono::system_clock::now().time_since_epoch())
      .count();
}

/// Lines on standard error with the time in UTC. A flood is cut: it must not fill a disk.
class Log {
 public:
  Log(Shell& shell, bool wanted) : shell_(shell), wanted_(wanted) {}

  void tell(const std::string& what) {
    if (!wanted_) return;
    const std::lock_guard<std::mutex> lock(mutex_);
    const std::time_t now = std::time(nullptr);
    if (now != second_) {
      if (left_out_ > 0) line(second_, std::to_string(left_out_) + " more lines left out");
      second_ = now;
      count_ = left_out_ = 0;
    }
    if (++count_ > kMostLines) {
      ++left_out_;
      return;
    }
    line(now, what);
  }

 private:
  static constexpr int kMostLines = 50;  // a second

  void line(std::time_t at, const std::string& what) {
    std::tm utc{};
    ::gmtime_r(&at, &utc);
    char text[32];
    std::strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &utc);
    // harmless(): line ends and control characters cannot make lines of their own
    shell_.err << text << ' ' << harmless(what) << '\n' << std::flush;
  }

  Shell& shell_;
  bool wanted_;
  std::mutex mutex_;
  std::time_t second_ = 0;
  int count_ = 0, left_out_ = 0;
};

/// Waits for Ctrl-C or a request to end, in a thread of its own; all others do not hear of it.
class Signals {
 public:
  Signals() {
    sigemptyset(&set_);
    sigaddset(&set_, SIGINT);
    sigaddset(&set_, SIGTERM);
    sigaddset(&set_, SIGUSR1);  // our own, to end the waiting
    ::pthread_sigmask(SIG_BLOCK, &set_, &before_);
  }
  Signals(const Signals&) = delete;
  Signals& operator=(const Signals&) = delete;
  ~Signals() {
    if (thread_.joinable()) {
      ::pthread_kill(thread_.native_handle(), SIGUSR1);
      thread_.join();
    }
    ::pthread_sigmask(SIG_SETMASK, &before_, nullptr);
  }
  void on_end(WebServer& server) {
    thread_ = std::thread([this, &server] {
      int signal = 0;
      ::sigwait(&set_, &signal);
      server.stop();
    });
  }

 private:
  sigset_t set_{}, before_{};
  std::thread thread_;
};

std::string folder_of(const std::string& path) {
  const std::filesystem::path parent = std::filesystem::path(path).parent_path();
  return parent.empty() ? "." : parent.string();
}

/// Names and addresses the pages are reached under; the first is for links and the poster.
std::vector<std::string> outside_names(const Arguments& arguments) {
  std::vector<std::string> names;
  if (arguments.has("name")) {
    const std::string name = arguments.text("name");
    // RFC 1123 section 2.1: letters, digits and hyphens, with dots between
    const bool right = !name.empty() && std::all_of(name.begin(), name.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
             c == '-' || c == '.';
    });
    if (!right) {
      throw UsageError("--name takes a host's name such as garage.local, not \"" + name + "\"");
    }
    names.push_back(name);
  }
  if (!arguments.has("lan")) return names;
  const LanNames lan = lan_names();
  names.insert(names.end(), lan.addresses.begin(), lan.addresses.end());
  if (!lan.host.empty() && lan.host != "localhost") {
    names.push_back(lan.host);
    if (lan.host.find('.') == std::string::npos) names.push_back(lan.host + ".local");
  }
  return names;
}

ServerWishes server_wishes(const Arguments& arguments, const std::vector<std::string>& names) {
  ServerWishes wishes;
  wishes.host = arguments.has("lan") ? "0.0.0.0" : "127.0.0.1";
  wishes.port = static_cast<int>(arguments.whole("port"));
  wishes.hosts = names;
  if (arguments.has("certificate") != arguments.has("key")) {
    throw UsageError("--certificate and --key belong together; give both or neither");
  }
  if (arguments.has("certificate")) {
    wishes.certificate = arguments.text("certificate");
    wishes.key = arguments.text("key");
  } else if (arguments.has("tls")) {
    const std::string book = arguments.positional[0];
    wishes.certificate = book + ".certificate.pem";
    wishes.key = book + ".key.pem";
    std::vector<std::string> good_for = {"localhost", "127.0.0.1", "::1"};
    good_for.insert(good_for.end(), names.begin(), names.end());
    make_certificate(wishes.certificate, wishes.key, good_for);
  }
  return wishes;
}

/// A book that has no passphrase gets one; nobody knows it but who sees this terminal.
void must_have_passphrase(Book& book, Shell& shell) {
  if (!book.secret("passphrase").empty()) return;
  const std::string passphrase = invented_passphrase();
  book.set_secret("passphrase", hash_passphrase(passphrase));
  shell.out << "The organiser's passphrase, shown this once: " << passphrase << '\n'
            << "(another one: greasepaint passphrase BOOK)\n";
}

void show_addresses(const Arguments& arguments,
                    const ServerWishes& wishes,
                    const std::vector<std::string>& names,
                    const std::string& address,
                    int port,
                    Shell& shell) {
  const bool quiet = arguments.has("quiet");
  const std::string scheme = wishes.certificate.empty() ? "http://" : "https://";
  if (arguments.has("lan") && names.empty()) {
    shell.err << "This computer is on no network that phones could reach it by.\n";
  }
  if (arguments.has("lan") && !quiet) {
    shell.out << qr_for_terminal(qr_code(address + "/"), shell.out_is_terminal && !shell.no_colour);
  }
  shell.out << "Pages: " << address << "/\n";
  if (!quiet) {
    for (const std::string& name : names) {
      const std::string other = scheme + name + ":" + std::to_string(port);
      if (other != address) shell.out << "  also " << other << "/\n";
    }
    shell.out << "Organiser: " << address << "/organise\n";
    if (!wishes.certificate.empty() && !arguments.has("certificate")) {
      shell.out << "Browsers warn once, because nobody but this computer vouches for the "
                   "certificate. Its SHA-256 fingerprint:\n  "
                << certificate_digest(wishes.certificate) << '\n';
    } else if (arguments.has("lan") && wishes.certificate.empty()) {
      shell.out << "Not encrypted: others on the same network can read along. --tls helps.\n";
    }
    shell.out << "Ctrl-C ends it.\n";
  }
  shell.out << std::flush;
}

/// The poster's files, said where they are.
void write_poster(const Arguments& arguments,
                  const Production& production,
                  const std::string& address,
                  Shell& shell) {
  if (!arguments.has("poster") && !arguments.has("lan")) return;
  const std::string folder =
      arguments.has("poster") ? arguments.text("poster") : folder_of(arguments.positional[0]);
  PosterWishes wishes;
  wishes.address = address;
  wishes.code = qr_code(address + "/");
  wishes.templates_dir = shell.templates_dir;
  if (arguments.has("fonts")) wishes.font_dirs = {arguments.text("fonts")};
  shell.files.make_folder(folder);
  for (const SheetFile& file : make_poster(production, wishes).files) {
    const std::string path = folder + "/" + file.name;
    shell.files.write(path, file.bytes);
    if (!arguments.has("quiet")) shell.out << "Poster: " << path << '\n';
  }
}

}  // namespace

ExitCode serve_pages(const Arguments& arguments, Shell& shell) {
  const std::string& path = arguments.positional[0];
  Signals signals;  // before any thread begins
  Book book(path);
  const std::vector<std::string> names = outside_names(arguments);
  const ServerWishes wishes = server_wishes(arguments, names);

  Log log(shell, !arguments.has("quiet"));
  Views views(shell.templates_dir);
  Sessions sessions(book);
  Planning planning(book, clock_now);
  Site::Parts parts{book, views, sessions, planning, shell.templates_dir, clock_now, "", {}};
  parts.log = [&log](const std::string& what) { log.tell(what); };
  Site site(std::move(parts));
  WebServer server(site, wishes);
  // only now: a wrong option or a port that is taken must not use up the one showing of it
  must_have_passphrase(book, shell);
  const std::string address = (wishes.certificate.empty() ? "http://" : "https://") +
                              (names.empty() ? "localhost" : names.front()) + ":" +
                              std::to_string(server.port());
  site.set_address(address);
  add_shared_pages(site);
  add_friends_pages(site);
  add_organiser_pages(site);

  write_poster(arguments, *book.state()->production, address, shell);
  show_addresses(arguments, wishes, names, address, server.port(), shell);
  signals.on_end(server);
  server.run();
  if (!arguments.has("quiet")) shell.err << "The pages have ended; the book is closed.\n";
  return ExitCode::right;
}

}  // namespace gp
