// How the pages bear many phones at once, in one run:
//   memory  of the server with 1,000 sign-ups in the book
//   phones  200 clients for 15 s, each asking for a page every second and signing up every fifth
//           time; how long they waited, and how many were refused
//   flood   sign-ups acknowledged in a second over HTTP, 64 clients without a pause, beside
//   SQLite's
//           one-row commits on the same disk in the same run (WAL, full sync)
// The server is a process of its own. Signing up goes through the gate, the library, the checks of
// forms and Book::enter(); the form's own fields are not read, the sign-up is made on the spot.
//
// usage: pages_load FOLDER

#include "web/server.h"

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <string>
#include <thread>
#include <vector>

#include <arpa/inet.h>
#include <netinet/in.h>
#include <signal.h>
#include <sqlite3.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

namespace {

using Clock = std::chrono::steady_clock;

gp::UnixTime now() {
  return std::chrono::duration_cast<std::chrono::seconds>(
             std::chrono::system_clock::now().time_since_epoch())
      .count();
}

gp::SignUp somebody(int number) {
  gp::SignUp one;
  one.name = "Guest " + std::to_string(number);
  one.phone = "0131 496 0" + std::to_string(100 + number % 900);
  one.can = {"paint"};
  one.food = "no nuts";
  return one;
}

[[noreturn]] void serve(const std::string& path, int tell) {
  gp::Book book(path);
  gp::Views views(std::string(GP_SOURCE_DIR) + "/templates");
  gp::Sessions sessions(book);
  gp::Planning planning(book, now);
  gp::Site site({book,
                 views,
                 sessions,
                 planning,
                 std::string(GP_SOURCE_DIR) + "/templates",
                 now,
                 "http://localhost",
                 {}});
  gp::add_shared_pages(site);
  gp::add_friends_pages(site);
  gp::add_organiser_pages(site);
  std::atomic<int> number{100'000};
  site.add({"POST", "/bench-sign-up", gp::Access::anyone, [&](gp::Visit& visit) {
              const auto entered = visit.site.book().enter(
                  somebody(++number), gp::new_secret(), gp::new_secret(), now());
              if (!std::holds_alternative<gp::Book::Entered>(entered)) {
                return gp::HttpAnswer::page("refused", 503);
              }
              return gp::HttpAnswer::go_to("/");
            }});
  site.add({"GET", "/bench-csrf", gp::Access::anyone, [](gp::Visit& visit) {
              return gp::HttpAnswer::page(visit.visitor + " " + visit.csrf);
            }});
  gp::ServerWishes wishes;
  wishes.port = 0;
  gp::WebServer server(site, wishes);
  const int port = server.port();
  if (::write(tell, &port, sizeof port) != sizeof port) std::_Exit(1);
  server.run();
  std::_Exit(0);
}

std::string ask(int port, const std::string& request) {
  const int socket = ::socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in there{};
  there.sin_family = AF_INET;
  there.sin_port = htons(static_cast<std::uint16_t>(port));
  ::inet_pton(AF_INET, "127.0.0.1", &there.sin_addr);
  std::string all;
  if (::connect(socket, reinterpret_cast<sockaddr*>(&there), sizeof there) == 0 &&
      ::send(socket, request.data(), request.size(), MSG_NOSIGNAL) ==
          static_cast<ssize_t>(request.size())) {
    char buffer[16384];
    for (ssize_t got = 0; (got = ::recv(socket, buffer, sizeof buffer, 0)) > 0;) {
      all.append(buffer, static_cast<std::size_t>(got));
    }
  }
  ::close(socket);
  return all;
}

std::string get(const std::string& path) {
  return "GET " + path + " HTTP/1.1\r\nHost: localhost\r\n\r\n";
}

double memory_mb(pid_t process) {
  std::ifstream file("/proc/" + std::to_string(process) + "/status");
  for (std::string line; std::getline(file, line);) {
    if (line.starts_with("VmRSS:")) return std::stod(line.substr(6)) / 1024.0;
  }
  return 0;
}

double own_commits(const std::string& path) {
  sqlite3* database = nullptr;
  sqlite3_open(path.c_str(), &database);
  sqlite3_exec(database,
               "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; CREATE TABLE t(a, b, c)",
               nullptr,
               nullptr,
               nullptr);
  int count = 0;
  const auto begun = Clock::now();
  while (Clock::now() - begun < std::chrono::seconds(3)) {
    sqlite3_exec(database, "INSERT INTO t VALUES(1, 'two', 'three')", nullptr, nullptr, nullptr);
    ++count;
  }
  sqlite3_close(database);
  return count / 3.0;
}

}  // namespace

int main(int count, char** words) {
  if (count != 2) return 64;
  const std::string folder = words[1];
  const std::string path = folder + "/load.book";
  const std::string film = R"({"greasepaint": 1, "title": "The Borrowed Moon",
    "days": [{"date": "2027-04-17"}]})";
  if (!gp::Book::make(path, film, now()).empty()) return 2;
  {
    gp::Book book(path);
    for (int i = 0; i < 1000; ++i) {
      book.enter(somebody(i), gp::new_secret(), gp::new_secret(), now());
    }
  }
  int ends[2] = {0, 0};
  if (::pipe(ends) != 0) return 4;
  const pid_t process = ::fork();
  if (process == 0) serve(path, ends[1]);
  int port = 0;
  if (::read(ends[0], &port, sizeof port) != sizeof port) return 4;

  const std::string given = ask(port, get("/bench-csrf"));
  const std::string secrets = given.substr(given.rfind('\n') + 1);
  const std::string visitor = secrets.substr(0, secrets.find(' '));
  const std::string form = "csrf=" + secrets.substr(secrets.find(' ') + 1);
  const std::string sign_up =
      "POST /bench-sign-up HTTP/1.1\r\nHost: localhost\r\nCookie: visitor=" + visitor +
      "\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: " +
      std::to_string(form.size()) + "\r\n\r\n" + form;

  // phones
  std::vector<std::vector<double>> waited(200);
  std::atomic<int> refused{0};
  std::vector<std::thread> phones;
  for (std::size_t i = 0; i < waited.size(); ++i) {
    phones.emplace_back([&, i] {
      std::this_thread::sleep_for(std::chrono::milliseconds(5 * static_cast<int>(i)));
      for (int round = 0; round < 15; ++round) {
        const auto asked = Clock::now();
        const std::string answer = ask(port, round % 5 == 4 ? sign_up : get("/"));
        waited[i].push_back(
            std::chrono::duration<double, std::milli>(Clock::now() - asked).count());
        if (!answer.starts_with("HTTP/1.1 200") && !answer.starts_with("HTTP/1.1 303")) ++refused;
        std::this_thread::sleep_until(asked + std::chrono::seconds(1));
      }
    });
  }
  for (std::thread& phone : phones) phone.join();
  std::vector<double> all;
  for (const auto& one : waited) all.insert(all.end(), one.begin(), one.end());
  std::sort(all.begin(), all.end());
  std::printf(
      "phones  200, %zu requests: half under %.1f ms, 99 %% under %.1f ms, longest %.1f ms; "
      "refused %d\n",
      all.size(),
      all[all.size() / 2],
      all[all.size() * 99 / 100],
      all.back(),
      refused.load());
  std::printf("memory  %.0f MB with 1,600 sign-ups\n", memory_mb(process));

  // flood
  std::atomic<int> kept{0};
  std::atomic<bool> end{false};
  std::vector<std::thread> many;
  for (int i = 0; i < 64; ++i) {
    many.emplace_back([&] {
      while (!end) {
        if (ask(port, sign_up).starts_with("HTTP/1.1 303")) ++kept;
      }
    });
  }
  std::this_thread::sleep_for(std::chrono::seconds(4));
  end = true;
  for (std::thread& one : many) one.join();
  const double a_second = kept / 4.0;
  const double own = own_commits(folder + "/own.db");
  std::printf(
      "flood   %.0f sign-ups a second over HTTP; SQLite's own commits %.0f a second: "
      "ratio %.2f\n",
      a_second,
      own,
      a_second / own);
  std::printf("memory  %.0f MB after the flood\n", memory_mb(process));
  ::kill(process, SIGTERM);
  ::waitpid(process, nullptr, 0);
  return 0;
}
