#include "cli/option_records.h"

namespace gp {

CommandRecord days_command() {
  CommandRecord command;
  command.name = "days";
  command.summary = "say which of the days are best to film on";
  command.text =
      "Plans each day of the production alone, then two or more together, and shows what can be "
      "filmed on which, who comes and for how long, and the best choice: most filmed, then fewest "
      "places empty, then fewest people who must come twice, then fewest days, then least time. "
      "Choices that are as good or nearly as good are shown too.\n"
      "The days of the file are the candidates. With more than a few, not every choice of several "
      "is tried, and it says so. Ctrl-C gives the best until then. docs/who.md tells how.";
  command.arguments = {{"FILE", "the production file or book; - reads standard input", true, {}}};
  command.options = {
      file_option("json",
                  "FILE",
                  "Write all of it as JSON; - writes it to standard output and shows nothing else "
                  "there."),
      number_option("most-days", OptionKind::whole, 1, 10, "3", "Days in one choice, at most."),
      number_option("effort",
                    OptionKind::decimal,
                    0.01,
                    100,
                    "0.2",
                    "Work for each plan, as a part of what plan does."),
      number_option("seed",
                    OptionKind::whole,
                    0,
                    4294967295.0,
                    "1",
                    "Where the search begins: another seed, perhaps another choice."),
      with_option(),
      flag_option("quiet", "No progress on standard error."),
      help_option()};
  return command;
}

}  // namespace gp
