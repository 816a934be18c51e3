#pragma once

#include "cli/options.h"

#include <string>
#include <vector>

// How records of options are made, for the files that list them.

namespace gp {

OptionRecord help_option();
OptionRecord flag_option(const std::string& name, const std::string& text);
OptionRecord text_option(const std::string& name,
                         const std::string& value,
                         const std::string& text);
/// A text that is a path.
OptionRecord file_option(const std::string& name,
                         const std::string& value,
                         const std::string& text);
/// One of some words.
OptionRecord choice_option(const std::string& name,
                           const std::string& value,
                           const std::vector<std::string>& choices,
                           const std::string& standard,
                           const std::string& text);
OptionRecord number_option(const std::string& name,
                           OptionKind kind,
                           double least,
                           double most,
                           const std::string& standard,
                           const std::string& text);

/// --with: whose answers count as coming.
OptionRecord with_option();
/// --seconds, --seed, --threads, --with and --day, of every command that plans.
std::vector<OptionRecord> planning_options();

/// open, export, history, undo, redo, change, forget.
std::vector<CommandRecord> book_commands();
/// serve, passphrase, door-code, link.
std::vector<CommandRecord> page_commands();
/// import.
std::vector<CommandRecord> import_commands();
/// why.
CommandRecord why_command();
/// whatif.
CommandRecord whatif_command();
/// cast.
CommandRecord cast_command();
/// days.
CommandRecord days_command();
/// ask.
CommandRecord ask_command();

}  // namespace gp
