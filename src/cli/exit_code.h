#pragma once

namespace gp {

/// How the program ends, by whose turn it is now. The table with examples: docs/commands.md.
enum class ExitCode {
  right = 0,          ///< all that was asked for is there
  our_mistake = 1,    ///< an error of the program: to be reported
  faults = 2,         ///< a file someone wrote has faults, or a plan breaks a rule
  not_all = 3,        ///< a right plan, but not every wish could be met
  world = 4,          ///< a disk, a folder, a font …
  usage = 64,         ///< a command or an option that does not exist (EX_USAGE of BSD's sysexits.h)
  interrupted = 130,  ///< Ctrl-C: 128 and the signal's number, as shells count
};

}  // namespace gp
