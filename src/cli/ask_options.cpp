#include "cli/option_records.h"

namespace gp {

CommandRecord ask_command() {
  CommandRecord command;
  command.name = "ask";
  command.summary = "say how many to ask so that enough come, and whom first";
  command.text =
      "Works out the chance that enough come, for every part, crowd, job and helper and for the "
      "whole production with nobody counted twice; what would make it 90, 95 and 99 per cent sure, "
      "and whose firm yes helps most. People come with the chance of their answer (yes 90 %, maybe "
      "50 %, not answered 30 %) or their own turnout; children come with their guardian.\n"
      "Without FILE, --need says how many must come, and the answer is how many to ask.\n"
      "Every chance is \"about\": people who share a car or a cold stay away together.";
  command.arguments = {{"FILE", "the production file or book; - reads standard input", false, {}}};
  OptionRecord turnout = number_option(
      "turnout", OptionKind::decimal, 0, 1, "0.3", "The chance that somebody asked comes.");
  OptionRecord sure = number_option("sure",
                                    OptionKind::decimal,
                                    1,
                                    99.999,
                                    "",
                                    "How sure to be, in per cent; not given: 90, 95 and 99.");
  sure.limits = "nobody is ever quite sure to come; per cent, so 95 and not 0.95";
  command.options = {
      number_option(
          "need", OptionKind::whole, 1, 2'000, "", "How many must come; for use without FILE."),
      turnout,
      sure,
      file_option("json",
                  "FILE",
                  "Write all of it as JSON; - writes it to standard output and shows nothing else "
                  "there."),
      help_option()};
  return command;
}

}  // namespace gp
