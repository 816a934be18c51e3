#include "cli/run.h"

#include "base/errors.h"
#include "support/memory_files.h"

#include <new>
#include <sstream>
#include <string>

#include <doctest/doctest.h>

namespace {

const std::string kTea =
    R"({"greasepaint": 1, "title": "Tea", "days": [{"date": "2027-04-17"}], "people": [{"id": "ada"}],
 "scenes": [{"id": "pour", "shoot_minutes": 10, "crew": [{"job": "camera"}]}]})";

/// A disk on which reading goes wrong in a way of the test's choice.
template <class Error>
class Broken final : public gp::Files {
 public:
  std::string read(const std::string& /*path*/, std::size_t /*most*/) override {
    throw Error("the lists disagree");
  }
  void write(const std::string& /*path*/, std::string_view /*bytes*/) override {}
  void make_folder(const std::string& /*path*/) override {}
};

struct OutOfMemory : std::bad_alloc {
  explicit OutOfMemory(const char* /*text*/) {}
};

struct Ended {
  gp::ExitCode code;
  std::string out, err;
};

Ended run_with(gp::Files& files, const std::vector<std::string>& words) {
  std::ostringstream out;
  std::ostringstream err;
  gp::Shell shell{files, out, err, false, false, 80, true, ""};
  const gp::ExitCode code = gp::run(words, shell);
  return {code, out.str(), err.str()};
}

}  // namespace

TEST_SUITE("cli/run") {
  TEST_CASE("a mistake of ours asks to be reported, with version and command, and ends with 1") {
    Broken<gp::InternalError> files;
    const Ended ended = run_with(files, {"plan", "film.json", "--seed", "3"});
    CHECK(ended.code == gp::ExitCode::our_mistake);
    CHECK(ended.out.empty());
    CHECK(ended.err ==
          "greasepaint: a mistake of the program, not yours: the lists disagree\n"
          "Please report it with this line and, if you may share it, the file:\n"
          "  greasepaint " GP_VERSION ": plan film.json --seed 3\n");
  }

  TEST_CASE("an error of a kind nobody thought of is ours too") {
    Broken<std::runtime_error> files;
    CHECK(run_with(files, {"check", "film.json"}).code == gp::ExitCode::our_mistake);
  }

  TEST_CASE("what the world refuses is one line and ends with 4") {
    Broken<gp::WorldError> files;
    const Ended ended = run_with(files, {"check", "film.json"});
    CHECK(ended.code == gp::ExitCode::world);
    CHECK(ended.err == "greasepaint: the lists disagree\n");
  }

  TEST_CASE("no memory left is the world's no") {
    Broken<OutOfMemory> files;
    const Ended ended = run_with(files, {"check", "film.json"});
    CHECK(ended.code == gp::ExitCode::world);
    CHECK(ended.err == "greasepaint: not enough memory; close other programs and try again\n");
  }

  TEST_CASE("a file is read, planned and written, and what is written is what was asked for") {
    gp::test::MemoryFiles files;
    files.files["tea.json"] = kTea;
    const Ended ended =
        run_with(files, {"plan", "tea.json", "--json", "plan.json", "--show", "short"});
    CHECK(ended.code == gp::ExitCode::right);
    CHECK(ended.err.empty());
    // called at the midnight nobody is before: 5 minutes to sign in, 10 behind the camera
    CHECK(ended.out ==
          "Tea: 1 of 1 scenes, 2027-04-17 00:05-00:15\n"
          "15 min on site by 1 person, 5 min waiting; no plan needs less time on site: proven\n"
          "written: plan.json\n");
    CHECK(files.written == std::vector<std::string>{"plan.json"});
    CHECK(files.folders.empty());
  }

  TEST_CASE("a plan says which file it was made from") {
    gp::test::MemoryFiles files;
    files.files["tea.json"] = kTea;
    run_with(files, {"plan", "tea.json", "--json", "a.json"});
    files.files["tea.json"] = kTea + "\n";  // the same production, other bytes
    run_with(files, {"plan", "tea.json", "--json", "b.json"});
    const auto made_from = [&files](const std::string& name) {
      const std::string& text = files.files[name];
      const auto at = text.find("\"made_from\": \"sha256:");
      REQUIRE(at != std::string::npos);
      return text.substr(at + 21, 64);
    };
    CHECK(made_from("a.json") != made_from("b.json"));
  }

  TEST_CASE("when the plan cannot be written nothing is shown as done") {
    gp::test::MemoryFiles files;
    files.files["tea.json"] = kTea;
    files.refuses = "plan.json";
    const Ended ended = run_with(files, {"plan", "tea.json", "--json", "plan.json"});
    CHECK(ended.code == gp::ExitCode::world);
    CHECK(ended.out.empty());
  }

  TEST_CASE("output that does not arrive is told") {
    gp::test::MemoryFiles files;
    std::ostringstream out;
    std::ostringstream err;
    out.setstate(std::ios::badbit);
    gp::Shell shell{files, out, err, false, false, 80, true, ""};
    CHECK(gp::run({"version"}, shell) == gp::ExitCode::world);
    CHECK(err.str().starts_with("greasepaint: cannot write standard output"));
  }
}
