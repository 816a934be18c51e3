#pragma once

#include "cli/exit_code.h"
#include "cli/shell.h"

#include <string>
#include <vector>

namespace gp {

/// Reads the command line (without the program's own name), runs the command, and turns what went
/// wrong into one line on standard error and the exit code of its kind. Never throws.
ExitCode run(const std::vector<std::string>& words, Shell& shell);

}  // namespace gp
