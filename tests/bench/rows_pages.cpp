// The book and the pages: two programs of their own, whose words are taken as they are.
#include "bench/machine.h"
#include "bench/sections.h"
#include "support/temporary_folder.h"

#include <filesystem>

namespace gp::bench {
namespace {

std::string block(const std::string& program, const std::string& arguments) {
  const auto beside = std::filesystem::read_symlink("/proc/self/exe").parent_path() / program;
  if (!std::filesystem::exists(beside))
    return "`" + program + "` is not built, so it was not run.\n\n";
  const Output output = output_of("'" + beside.string() + "' " + arguments);
  return "```text\n" + output.text + "```\n" +
         (output.status == 0
              ? ""
              : program + " ended with status " + std::to_string(output.status) + ".\n") +
         "\n";
}

std::string pages(const Options& options, double /*seconds*/) {
  const test::TemporaryFolder folder;
  const int rounds = options.seconds ? static_cast<int>(*options.seconds) : 5;
  return "Sign-ups that the book acknowledges, beside SQLite's own commits of one row on the same "
         "disk "
         "in the\nsame run, both with write-ahead log and full sync (`book_commits`):\n\n" +
         block("book_commits", "'" + folder.path().string() + "' " + std::to_string(rounds)) +
         "Two hundred phones at once, and a flood of sign-ups over HTTP (`pages_load`):\n\n" +
         block("pages_load", "'" + folder.path().string() + "'");
}

}  // namespace

Section page_section() {
  return {"pages", "The book and the pages", "", 0, pages, false};
}

}  // namespace gp::bench
