#include <string>

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

// A sanitizer build must really sanitize: a cached flag once made another project's a silent no-op
// for months. GP_SANITIZE is what the build was asked for; what follows is what it does.

#ifdef GP_SANITIZE

namespace {

const std::string kAsked = GP_SANITIZE;

bool asked_for(const std::string& sanitizer) {
  return kAsked.find(sanitizer) != std::string::npos;
}

/// How a child ends that does `mistake`; its report is not shown.
template <class Mistake>
int end_of_child(Mistake mistake) {
  const pid_t child = ::fork();
  if (child == 0) {
    ::close(STDERR_FILENO);
    mistake();
    ::_exit(0);
  }
  int status = 0;
  ::waitpid(child, &status, 0);
  return status;
}

}  // namespace

TEST_SUITE("base/sanitizers_enabled") {
  TEST_CASE("the compiler was really given the sanitizers that were asked for") {
#ifdef __SANITIZE_ADDRESS__
    CHECK(asked_for("address"));
#else
    CHECK_FALSE(asked_for("address"));
#endif
#ifdef __SANITIZE_THREAD__
    CHECK(asked_for("thread"));
#else
    CHECK_FALSE(asked_for("thread"));
#endif
  }

  TEST_CASE("reading what was given back ends the program" * doctest::skip(!asked_for("address"))) {
    const int status = end_of_child([] {
      volatile int* number = new int(7);
      delete number;
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wuse-after-free"
      static_cast<void>(*number);
#pragma GCC diagnostic pop
    });
    CHECK(status != 0);
  }

  TEST_CASE("a sum past the largest number ends the program" *
            doctest::skip(!asked_for("undefined"))) {
    const int status = end_of_child([] {
      volatile int large = 2'147'483'647;
      large = large + 1;
    });
    CHECK(status != 0);
  }
}

#endif
