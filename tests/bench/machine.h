#pragma once

#include <functional>
#include <string>

namespace gp::bench {

/// The processor, how many of its cores we have, memory, system and compiler, in one line; no name
/// of a host or of anybody.
std::string machine_text();
/// The last commit of the sources that this program can have in it, and whether they have been
/// changed since without one: "1a2b3c4", "1a2b3c4 and changes not committed".
std::string commit_text();
std::string today();
/// How many processes wanted to run in the last minute, on average: on a busy machine times are too
/// long.
double load();

/// The most memory this process ever held (resident) [MB].
double peak_megabytes();

/// What a piece of work wrote and what it took.
struct Apart {
  std::string text;
  double megabytes = 0;  ///< the most memory held (resident) by its process
  double seconds = 0;
  bool ended_well = false;
};

/// Does the work in a process of its own, so that its memory is its own and its death not ours.
Apart run_apart(const std::function<std::string()>& work);

/// A program's standard output and how it ended. Its errors go to ours.
struct Output {
  std::string text;
  int status = -1;
};
Output output_of(const std::string& command);

}  // namespace gp::bench
