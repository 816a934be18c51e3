// Makes a book for the tests of the pages in a browser: a production, a passphrase, one friend who
// has just signed up and one who has a call in the plan.
//
// usage: pages_make_book PRODUCTION.json BOOK PASSPHRASE PERSON
//
// Prints one JSON object: the links and ids made.

#include "base/files.h"
#include "search/planner.h"
#include "store/book.h"
#include "store/enrol.h"
#include "web/planning.h"
#include "web/secrets.h"

#include <chrono>
#include <iostream>
#include <stdexcept>
#include <thread>

namespace {

constexpr gp::UnixTime kMade = 1'780'000'000;  // 2026-05-28: before the days of the demos

std::string kept(const std::variant<gp::Kept, gp::Refusal>& result) {
  if (std::holds_alternative<gp::Refusal>(result)) throw std::runtime_error("refused");
  return {};
}

int make(const std::string& production,
         const std::string& path,
         const std::string& passphrase,
         const std::string& person) {
  using namespace gp;
  constexpr std::size_t kMost = 20'000'000;
  if (!Book::make(path, Disk().read(production, kMost), kMade).empty()) {
    throw std::runtime_error("not a right production");
  }
  Book book(path);
  book.set_secret("passphrase", hash_passphrase(passphrase));
  SignUp fresh;
  fresh.name = "Zoë <b>O’Neill</b> & Söhne";
  fresh.phone = "07700 900982";
  fresh.friends = "Nobody Here <i>\nWho Else";
  const std::string fresh_link = new_secret();
  const auto entered = book.enter(fresh, new_secret(), fresh_link, kMade);
  const std::string fresh_id = std::get<Book::Entered>(entered).id;
  const std::string id = new_id();
  const std::string link = new_secret();
  kept(book.change(sign_up_for_person(*book.state(), person, id, "organiser", kMade)));
  book.add_link(id, link, kMade);
  {
    Planning planning(book, [] { return kMade; });
    Wishes wishes;
    wishes.effort = 0.02;
    planning.start(wishes);
    while (planning.state().kind == Planning::State::Kind::running) {
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    if (planning.state().kind != Planning::State::Kind::done) {
      throw std::runtime_error("no plan: " + planning.state().text);
    }
  }
  std::cout << nlohmann::json{{"fresh_id", fresh_id},
                              {"fresh_link", fresh_link},
                              {"called_id", id},
                              {"called_link", link}}
            << "\n";
  return 0;
}

}  // namespace

int main(int count, char** arguments) {
  const std::vector<std::string> given(arguments, arguments + count);
  if (given.size() != 5) {
    std::cerr << "usage: pages_make_book PRODUCTION.json BOOK PASSPHRASE PERSON\n";
    return 64;
  }
  try {
    return make(given[1], given[2], given[3], given[4]);
  } catch (const std::exception& error) {
    std::cerr << error.what() << "\n";
    return 1;
  }
}
