// Enters sign-ups and changes the production without end, from several threads, and says on
// standard output what was acknowledged; for kill.py, which kills it.
//     book_writer BOOK RUN

#include "store/book.h"

#include <string>
#include <thread>
#include <vector>

#include <unistd.h>

namespace {

/// One write of a short line to a pipe is whole or not there (POSIX: up to PIPE_BUF bytes).
void say(const std::string& line) {
  if (::write(STDOUT_FILENO, line.data(), line.size()) < 0) ::_exit(3);
}

void enter(gp::Book& book, const std::string& run, int thread) {
  for (int i = 0;; ++i) {
    const std::string key = run + "-" + std::to_string(thread) + "-" + std::to_string(i);
    gp::SignUp sign_up;
    sign_up.name = "Friend " + key;
    const auto result = book.enter(sign_up, key, "link-" + key, 1'800'000'000);
    if (!std::holds_alternative<gp::Book::Entered>(result)) ::_exit(4);
    say("entered " + key + "\n");
  }
}

/// Title and settings change together: one without the other would be half a change.
void change(gp::Book& book, const std::string& run) {
  for (int i = 0;; ++i) {
    const std::string title = run + "-" + std::to_string(i);
    gp::Change both;
    both.who = "organiser";
    both.why = title;
    both.edits.push_back(
        {"production",
         gp::Document::array({{{"op", "replace"}, {"path", "/title"}, {"value", title}}})});
    both.edits.push_back(
        {"settings",
         gp::Document::array(
             {{{"op", "add"}, {"path", ""}, {"value", gp::Document{{"about", title}}}}})});
    const auto result = book.change(both);
    if (!std::holds_alternative<gp::Kept>(result)) ::_exit(5);
    say("changed " + title + "\n");
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 3) return 64;
  gp::Book book(argv[1]);
  const std::string run = argv[2];
  std::vector<std::thread> threads;
  for (int thread = 0; thread < 3; ++thread) {
    threads.emplace_back([&book, &run, thread] { enter(book, run, thread); });
  }
  change(book, run);
}
