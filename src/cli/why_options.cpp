#include "cli/option_records.h"

namespace gp {

CommandRecord why_command() {
  CommandRecord command;
  command.name = "why";
  command.summary = "say why somebody is called then, or a scene is filmed then";
  command.text =
      "Says what holds the call of a person, the shot of a scene or the busy times of a station "
      "where they are: for a person each engagement from the call to the shot it is for, what "
      "keeps "
      "it from being later, and which small changes would let them come later, found by planning "
      "again with each. For a scene that is not filmed, or short of people, the smallest set of "
      "facts that stand in the way, and the least change of each that would do.\n"
      "Plans first, as greasepaint plan does, unless a plan is given with --plan.";
  command.arguments = {
      {"FILE", "the production file or book; - reads standard input", true, {}},
      {"WHAT",
       "a person, a scene or a station: its id or its name; person:bo, scene:bo or station:bo "
       "where the same word names several",
       true,
       {}}};
  command.options = {
      file_option("plan", "PLAN", "Explain this plan (the JSON of plan --json) instead."),
      file_option("json",
                  "FILE",
                  "Write the reasons as JSON; - writes them to standard output and shows nothing "
                  "else there."),
      flag_option("reasons-only",
                  "Leave out which small changes would let a person come later, and what would "
                  "have to change for a scene that is not filmed or short.")};
  const std::vector<OptionRecord> planning = planning_options();
  command.options.insert(command.options.end(), planning.begin(), planning.end());
  command.options.push_back(flag_option("quiet", "No progress on standard error."));
  command.options.push_back(help_option());
  return command;
}

}  // namespace gp
