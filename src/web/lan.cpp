#include "web/lan.h"

#include <algorithm>
#include <array>
#include <cstring>
#include <string_view>

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <unistd.h>

namespace gp {
namespace {

/// Networks inside this computer, which no phone is in: containers, virtual machines, tunnels.
bool is_inner(std::string_view interface) {
  static constexpr std::array<std::string_view, 7> kInner = {
      "docker", "br-", "veth", "virbr", "tun", "tap", "podman"};
  return std::any_of(kInner.begin(), kInner.end(), [&](std::string_view beginning) {
    return interface.starts_with(beginning);
  });
}

/// RFC 1918.
bool is_private(std::uint32_t address) {
  return (address >> 24U) == 10 || (address >> 20U) == 0xAC1 || (address >> 16U) == 0xC0A8;
}

}  // namespace

LanNames lan_names() {
  LanNames names;
  std::vector<std::string> others;
  ifaddrs* all = nullptr;
  if (::getifaddrs(&all) == 0) {
    for (const ifaddrs* one = all; one != nullptr; one = one->ifa_next) {
      const bool up = (one->ifa_flags & IFF_UP) != 0 && (one->ifa_flags & IFF_LOOPBACK) == 0;
      if (!up || one->ifa_addr == nullptr || one->ifa_addr->sa_family != AF_INET ||
          is_inner(one->ifa_name)) {
        continue;
      }
      sockaddr_in address{};
      std::memcpy(&address, one->ifa_addr, sizeof address);
      std::array<char, INET_ADDRSTRLEN> text{};
      ::inet_ntop(AF_INET, &address.sin_addr, text.data(), text.size());
      (is_private(ntohl(address.sin_addr.s_addr)) ? names.addresses : others)
          .emplace_back(text.data());
    }
    ::freeifaddrs(all);
  }
  names.addresses.insert(names.addresses.end(), others.begin(), others.end());
  std::array<char, 256> host{};
  if (::gethostname(host.data(), host.size() - 1) == 0) names.host = host.data();
  return names;
}

}  // namespace gp
