#include "cli/arguments.h"

#include "cli/help.h"

#include <set>
#include <string>
#include <vector>

#include <doctest/doctest.h>

namespace {

std::string refusal(const std::vector<std::string>& words) {
  try {
    gp::read_arguments(words);
  } catch (const gp::UsageError& error) {
    return error.what();
  }
  return "no refusal";
}

}  // namespace

TEST_SUITE("cli/arguments") {
  TEST_CASE("arguments and options are read in any order and in both spellings") {
    const auto read =
        gp::read_arguments({"plan", "--seed", "7", "film.json", "--json=plan.json", "--quiet"});
    CHECK(read.command->name == "plan");
    CHECK(read.positional == std::vector<std::string>{"film.json"});
    CHECK(read.whole("seed") == 7);
    CHECK(read.text("json") == "plan.json");
    CHECK(read.has("quiet"));
    CHECK_FALSE(read.has("out"));
  }

  TEST_CASE("what is not given is as the help says") {
    const auto read = gp::read_arguments({"plan", "film.json"});
    CHECK(read.whole("seed") == 1);
    CHECK(read.whole("threads") == 2);
    CHECK(read.decimal("seconds") == 0.0);
    CHECK(read.text("show") == "days");
    CHECK(read.text("paper").empty());
    CHECK_FALSE(read.among("with", "maybe"));
  }

  TEST_CASE("a dash alone is a file, and after two dashes everything is") {
    CHECK(gp::read_arguments({"check", "-"}).positional == std::vector<std::string>{"-"});
    CHECK(gp::read_arguments({"check", "--", "--odd.json"}).positional ==
          std::vector<std::string>{"--odd.json"});
  }

  TEST_CASE("answers are several with commas, choices take either case") {
    const auto read = gp::read_arguments({"plan", "f", "--with", "asked,maybe", "--paper=letter"});
    CHECK(read.among("with", "maybe"));
    CHECK(read.among("with", "asked"));
    CHECK(read.text("paper") == "Letter");
    const auto one = gp::read_arguments({"plan", "f", "--with=maybe"});
    CHECK(one.among("with", "maybe"));
    CHECK_FALSE(one.among("with", "asked"));
  }

  TEST_CASE("no command, --help and --version are commands too") {
    CHECK(gp::read_arguments({}).command->name == "help");
    CHECK(gp::read_arguments({"--help"}).command->name == "help");
    CHECK(gp::read_arguments({"-h"}).command->name == "help");
    CHECK(gp::read_arguments({"--version"}).command->name == "version");
    // asked for help, nothing else need be right
    CHECK(gp::read_arguments({"judge", "--help"}).has("help"));
  }

  TEST_CASE("a wrong command line is answered with what is wrong and the nearest name") {
    CHECK(refusal({"paln"}) ==
          "there is no command paln; did you mean plan? See: greasepaint help");
    CHECK(refusal({"bake"}) == "there is no command bake; see: greasepaint help");
    CHECK(refusal({"plan", "f", "--sede", "1"}) ==
          "plan has no option --sede; did you mean --seed? See: greasepaint help plan");
    CHECK(refusal({"plan", "f", "-s"}) ==
          "options begin with two dashes, not -s; see: greasepaint help plan");
    CHECK(refusal({"--quiet", "plan", "f"}) ==
          "a command comes first, before --quiet; see: greasepaint help");
    CHECK(refusal({"plan"}) ==
          "plan needs FILE: the production file or book; - reads standard input; see: greasepaint "
          "help plan");
    CHECK(refusal({"check", "a", "b"}) ==
          "check takes nothing more after a, but there is \"b\"; see: greasepaint help check");
    CHECK(refusal({"version", "a"}) ==
          "version takes nothing more after its name, but there is "
          "\"a\"; see: greasepaint help version");
    CHECK(refusal({"plan", "f", "--quiet", "--quiet"}) ==
          "--quiet is given twice; see: greasepaint help plan");
    CHECK(refusal({"plan", "f", "--quiet=yes"}) ==
          "--quiet takes no value; see: greasepaint help plan");
    CHECK(refusal({"plan", "f", "--json"}) ==
          "--json needs a value: FILE; see: greasepaint help plan");
    CHECK(refusal({"plan", "f", "--json="}) ==
          "--json needs a value: FILE; see: greasepaint help plan");
    CHECK(refusal({"help", "pln"}) ==
          "there is no command pln; did you mean plan? See: greasepaint help");
  }

  TEST_CASE("a number outside of its range, or none at all, is refused with the range") {
    for (const std::string value : {"65", "0", "-1", "2.5", "two", "", " 2", "0x2", "1e1"}) {
      CAPTURE(value);
      CHECK(refusal({"plan", "f", "--threads", value}) ==
            "--threads takes a whole number from 1 to 64, not \"" + value +
                "\"; see: greasepaint help plan");
    }
    for (const std::string value : {"-0.5", "86401", "nan", "inf", "1,5", "1e99999"}) {
      CAPTURE(value);
      CHECK(refusal({"plan", "f", "--seconds", value}) ==
            "--seconds takes a number from 0 to 86400, not \"" + value +
                "\"; see: greasepaint help plan");
    }
    CHECK(gp::read_arguments({"plan", "f", "--seconds", "0.5"}).decimal("seconds") == 0.5);
    CHECK(gp::read_arguments({"plan", "f", "--threads", "64"}).whole("threads") == 64);
  }

  TEST_CASE("a choice there is not is refused with those there are") {
    CHECK(refusal({"plan", "f", "--paper", "A5"}) ==
          "--paper takes A4 or Letter, not \"A5\"; see: greasepaint help plan");
    CHECK(refusal({"plan", "f", "--show", "shrt"}) ==
          "--show takes days, short or nothing, not \"shrt\"; did you mean short? See: greasepaint "
          "help plan");
    CHECK(refusal({"plan", "f", "--with", "maybe,no"}) ==
          "--with takes maybe or asked, not \"no\"; see: greasepaint help plan");
    CHECK(refusal({"plan", "f", "--with", "maybe,"}) ==
          "--with takes maybe or asked, not \"\"; see: greasepaint help plan");
  }
}

TEST_SUITE("cli/options") {
  TEST_CASE("no command has an option twice, and every range holds its standard") {
    for (const gp::CommandRecord& command : gp::commands()) {
      std::set<std::string> names;
      for (const gp::OptionRecord& option : command.options) {
        CAPTURE(command.name);
        CAPTURE(option.name);
        CHECK(names.insert(option.name).second);
        CHECK_FALSE(option.text.empty());
        if (option.kind == gp::OptionKind::whole || option.kind == gp::OptionKind::decimal) {
          REQUIRE(option.least.has_value());
          REQUIRE(option.most.has_value());
          if (!option.standard.empty()) {  // without one the option may be left out
            CHECK(std::stod(option.standard) >= *option.least);
            CHECK(std::stod(option.standard) <= *option.most);
          }
        }
        CHECK((option.kind == gp::OptionKind::flag) == option.value.empty());
      }
    }
  }

  TEST_CASE("help, man page and completions tell every option of every command") {
    const std::string page = gp::man_page();
    for (const gp::CommandRecord& command : gp::commands()) {
      if (command.hidden) {
        CHECK(gp::overview().find(command.name) == std::string::npos);
        continue;
      }
      CHECK(gp::overview().find("greasepaint " + command.name) != std::string::npos);
      for (const gp::OptionRecord& option : command.options) {
        CAPTURE(option.name);
        CHECK(gp::help_of(command).find("--" + option.name) != std::string::npos);
        std::string in_roff;  // where a plain hyphen might be broken at, or become another sign
        for (const char letter : option.name)
          in_roff += letter == '-' ? "\\-" : std::string(1, letter);
        CHECK(page.find("\\fB\\-\\-" + in_roff + "\\fR") != std::string::npos);
        CHECK(gp::completion("bash").find("--" + option.name) != std::string::npos);
        CHECK(gp::completion("zsh").find("--" + option.name + "[") != std::string::npos);
        CHECK(gp::completion("fish").find(" -l " + option.name) != std::string::npos);
        CHECK(gp::option_names().find(command.name + " --" + option.name + "\n") !=
              std::string::npos);
      }
    }
  }
}
