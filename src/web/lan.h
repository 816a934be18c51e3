#pragma once

#include <string>
#include <vector>

namespace gp {

/// How other devices reach this computer.
struct LanNames {
  std::vector<std::string> addresses;  ///< IPv4, the most likely first; no loopback
  std::string host;                    ///< the computer's own name; empty: none
};
LanNames lan_names();

}  // namespace gp
