#include "base/files.h"

#include "base/errors.h"
#include "support/temporary_folder.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

namespace fs = std::filesystem;

namespace {

std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream all;
  all << in.rdbuf();
  return all.str();
}

void put(const std::string& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

std::vector<std::string> names_in(const fs::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) {
    names.push_back(entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

template <class Action>
std::string refusal(Action action) {
  try {
    action();
  } catch (const gp::WorldError& error) {
    return error.what();
  }
  return "no refusal";
}

}  // namespace

TEST_SUITE("base/files") {
  TEST_CASE("what was written is read back, every byte") {
    const gp::test::TemporaryFolder folder;
    gp::Disk disk;
    std::string bytes;
    for (int i = 0; i < 200'000; ++i) bytes += static_cast<char>(i * 7 % 256);
    disk.write(folder.file("plan.json"), bytes);
    CHECK(disk.read(folder.file("plan.json"), 1'000'000) == bytes);
    CHECK(names_in(folder.path()) == std::vector<std::string>{"plan.json"});
  }

  TEST_CASE("a longer file is read one byte past the limit and no further") {
    const gp::test::TemporaryFolder folder;
    gp::Disk disk;
    put(folder.file("long"), std::string(1000, 'x'));
    CHECK(disk.read(folder.file("long"), 999).size() == 1000);
    CHECK(disk.read(folder.file("long"), 100).size() == 101);
    CHECK(disk.read(folder.file("long"), 1000).size() == 1000);
    CHECK(disk.read("/dev/zero", 5000).size() == 5001);  // endless, yet bounded
  }

  TEST_CASE("a refusal says what was tried, what to do, and the cause last") {
    const gp::test::TemporaryFolder folder;
    gp::Disk disk;
    const std::string base = folder.path().string();
    CHECK(refusal([&] { disk.read(base + "/none.json", 10); }) ==
          "cannot read " + base + "/none.json; check the path: No such file or directory");
    CHECK(refusal([&] { disk.read(base, 10); }) ==
          "cannot read " + base + "; name a file, not a folder: Is a directory");
    CHECK(refusal([&] { disk.write(base, "x"); }) ==
          "cannot write " + base + "; name a file, not a folder: Is a directory");
    CHECK(refusal([&] { disk.write(base + "/none/plan.json", "x"); }) ==
          "cannot write " + base + "/none/plan.json; check the path: No such file or directory");
    put(base + "/out", "a file, not a folder");
    CHECK(refusal([&] { disk.write(base + "/out/plan.json", "x"); }) ==
          "cannot write " + base +
              "/out/plan.json; a file is in the way of a folder: choose another place: Not a "
              "directory");
    CHECK(refusal([&] { disk.make_folder(base + "/out"); }) ==
          "cannot make the folder " + base +
              "/out; a file is in the way of a folder: choose another place: Not a directory");
  }

  TEST_CASE("a full device is told, not swallowed") {
    gp::Disk disk;
    CHECK(refusal([&] { disk.write("/dev/full", "x"); }) ==
          "cannot write /dev/full; make room there or choose another place: No space left on "
          "device");
  }

  TEST_CASE("when the disk fills up the old file stays whole and nothing is left beside it") {
    // A limit on the size of files stands in for a full disk: the write fails half-way. In a child,
    // because the limit cannot be lifted again.
    const gp::test::TemporaryFolder folder;
    put(folder.file("plan.json"), "the old plan");
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      ::signal(SIGXFSZ, SIG_IGN);
      const rlimit limit{4096, 4096};
      ::setrlimit(RLIMIT_FSIZE, &limit);
      gp::Disk disk;
      const std::string told =
          refusal([&] { disk.write(folder.file("plan.json"), std::string(100'000, 'n')); });
      ::_exit(told.ends_with("make room there or choose another place: File too large") ? 0 : 1);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    CHECK(status == 0);
    CHECK(bytes_of(folder.file("plan.json")) == "the old plan");
    CHECK(names_in(folder.path()) == std::vector<std::string>{"plan.json"});
  }

  TEST_CASE("a folder that may not be written is told") {
    const gp::test::TemporaryFolder folder;
    const fs::path shut = folder.path() / "shut";
    fs::create_directory(shut);
    ::chmod(folder.path().c_str(), 0755);
    ::chmod(shut.c_str(), 0555);
    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      // root may write anywhere, so the child becomes nobody (65534 on Debian)
      if (::geteuid() == 0 && ::seteuid(65534) != 0) ::_exit(2);
      gp::Disk disk;
      const std::string told = refusal([&] { disk.write((shut / "plan.json").string(), "x"); });
      ::_exit(told == "cannot write " + (shut / "plan.json").string() +
                          "; choose another place or change its permissions: Permission denied"
                  ? 0
                  : 1);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    CHECK(status == 0);
    CHECK(names_in(shut).empty());
  }

  TEST_CASE("a link is followed and keeps pointing where it did") {
    const gp::test::TemporaryFolder folder;
    gp::Disk disk;
    fs::create_directory(folder.path() / "kept");
    put(folder.file("kept/plan.json"), "old");
    fs::create_symlink("kept/plan.json", folder.path() / "plan.json");
    disk.write(folder.file("plan.json"), "new");
    CHECK(fs::is_symlink(folder.path() / "plan.json"));
    CHECK(bytes_of(folder.file("kept/plan.json")) == "new");
  }

  TEST_CASE("a file keeps its permissions, and a new one gets those the mask leaves") {
    const gp::test::TemporaryFolder folder;
    gp::Disk disk;
    put(folder.file("private.json"), "old");
    ::chmod(folder.file("private.json").c_str(), 0600);
    disk.write(folder.file("private.json"), "new");
    struct stat there {};
    REQUIRE(::stat(folder.file("private.json").c_str(), &there) == 0);
    CHECK((there.st_mode & 0777U) == 0600U);
    const mode_t before = ::umask(027);
    disk.write(folder.file("fresh.json"), "new");
    ::umask(before);
    REQUIRE(::stat(folder.file("fresh.json").c_str(), &there) == 0);
    CHECK((there.st_mode & 0777U) == 0640U);  // 0666 without 0027
  }

  TEST_CASE("folders are made with those above them, and making them again is fine") {
    const gp::test::TemporaryFolder folder;
    gp::Disk disk;
    disk.make_folder(folder.file("a/b/c"));
    disk.make_folder(folder.file("a/b/c/"));
    CHECK(fs::is_directory(folder.path() / "a/b/c"));
  }
}
