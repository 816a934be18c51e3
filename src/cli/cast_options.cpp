#include "cli/option_records.h"

namespace gp {

CommandRecord cast_command() {
  CommandRecord command;
  command.name = "cast";
  command.summary = "say who could play what, over the whole production";
  command.text =
      "Gives every free part to one person, and every scene its crowds and crew, before there is "
      "an "
      "order: everything is filled that can be, burdens are spread, what people like counts. "
      "What the file fixes stays, and is told where it cannot be kept; where nobody is left it "
      "says "
      "why, and who would do if one thing were otherwise. Never against what somebody will not "
      "do.\n"
      "Chairs and the order of the day are not looked at: plan does that. --keep writes the "
      "production with the parts given, for plan to go on with. What counts how much: "
      "docs/who.md.";
  command.arguments = {{"FILE", "the production file or book; - reads standard input", true, {}}};
  command.options = {
      file_option(
          "json",
          "FILE",
          "Write the casting as JSON; - writes it to standard output and shows nothing else "
          "there."),
      file_option("keep", "FILE", "Write the production with every part given as it is here."),
      number_option("effort",
                    OptionKind::decimal,
                    0.01,
                    100,
                    "1",
                    "Do so many times the usual amount of work."),
      number_option("seed",
                    OptionKind::whole,
                    0,
                    4294967295.0,
                    "1",
                    "Where the search begins: another seed, perhaps another casting."),
      with_option(),
      text_option("day", "DATE", "Cast for this day alone."),
      flag_option("quiet", "No progress on standard error."),
      help_option()};
  return command;
}

}  // namespace gp
