#include "cli/option_records.h"

namespace gp {

CommandRecord whatif_command() {
  CommandRecord command;
  command.name = "whatif";
  command.summary = "plan again with changes, or find which help is worth most";
  command.text =
      "Plans twice, as the file is and with the changes, and shows the two side by side: people's "
      "time, waiting, first call, first shot and wrap, scenes won and lost, heads filled and no "
      "longer filled, and every call that moves. Nothing is changed in the file.\n"
      "A change is one argument of a few words: \"chairs paint +1\", \"friend guard\", \"helper "
      "paint\", \"items helmet +1\", \"without bo\", \"with sol\", \"can bo paint\", \"free bo "
      "09:00-18:00\", \"free bo 30 earlier\", \"open paint 30 later\", \"first-shot 10:00\", "
      "\"wrap "
      "+30\", \"nobody-before 07:00\", \"quicker guard 20%\", \"slower guard 5\", \"shorter march "
      "10\", \"longer march 10\", \"drop march\", \"any-time march\", \"heads march guard -1\". "
      "All "
      "of them: docs/whatif.md.\n"
      "--best-help tries every small help there is, one at a time, and ranks them: scenes won "
      "first, then heads filled, then hours of people's time saved. With changes too, on top of "
      "these. Ctrl-C gives the ranking so far.";
  command.arguments = {
      {"FILE", "the production file or book; - reads standard input", true, {}},
      {"CHANGE", "a change, in quotes; several are made together", false, {}, true}};
  command.options = {
      flag_option("best-help", "Try every small help and rank them."),
      file_option("json",
                  "FILE",
                  "Write the comparison or the ranking as JSON; - writes it to standard output and "
                  "shows nothing else there.")};
  for (OptionRecord option : planning_options()) {
    if (option.name == "seconds") {
      option.text =
          "Search for so many seconds for each plan; 0 does a fixed amount of work instead.";
    }
    if (option.name == "threads") {
      option.text =
          "Search with so many threads; part of the answer, as the seed is. With --best-help: make "
          "so many plans at once; the ranking is the same for any number.";
    }
    command.options.push_back(option);
  }
  command.options.push_back(flag_option("quiet", "No progress on standard error."));
  command.options.push_back(help_option());
  return command;
}

}  // namespace gp
