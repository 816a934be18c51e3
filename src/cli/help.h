#pragma once

#include "cli/options.h"

#include <string>

// What is written from the records of options.h.

namespace gp {

/// The commands, one a line: `greasepaint help`.
std::string overview();
/// All about one command: `greasepaint help plan`.
std::string help_of(const CommandRecord& command);
/// `greasepaint 0.1.0`
std::string version_line();

/// The man page, for man(1): groff's man macros.
std::string man_page();
/// The completion script of a shell: bash, zsh or fish.
std::string completion(const std::string& shell);
/// Each command with each of its options, `plan --seed`, one a line.
std::string option_names();

/// A number's range and what an option takes when it is not given: ` (0 to 64; not given: 1)`.
std::string range_of(const OptionRecord& option);

}  // namespace gp
