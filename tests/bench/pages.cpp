#include "bench/pages.h"

#include <algorithm>
#include <cstdio>

namespace gp::bench {
namespace {

std::string begin_mark(const std::string& name) {
  return "<!-- " + name + ": written by benchmarks --only " + name + " -->\n";
}
std::string end_mark(const std::string& name) {
  return "<!-- end of " + name + " -->\n";
}

}  // namespace

std::string with_section(const std::string& page,
                         const std::string& name,
                         const std::string& body,
                         const std::vector<std::string>& order) {
  const std::string section = begin_mark(name) + body + end_mark(name);
  const std::size_t begin = page.find(begin_mark(name));
  if (begin != std::string::npos) {
    const std::size_t end = page.find(end_mark(name), begin);
    if (end != std::string::npos) {
      return page.substr(0, begin) + section + page.substr(end + end_mark(name).size());
    }
  }
  const auto here = std::find(order.begin(), order.end(), name);
  for (auto later = here; later != order.end(); ++later) {
    const std::size_t at = page.find(begin_mark(*later));
    if (at != std::string::npos) return page.substr(0, at) + section + "\n" + page.substr(at);
  }
  return page + (page.empty() ? "" : "\n") + section;
}

std::string table(const std::vector<std::string>& headings,
                  const std::vector<std::vector<std::string>>& rows) {
  const auto line = [](const std::vector<std::string>& cells) {
    std::string text = "|";
    for (const std::string& cell : cells) text += " " + cell + " |";
    return text + "\n";
  };
  std::string text = line(headings) + "|";
  for (std::size_t i = 0; i < headings.size(); ++i) text += i == 0 ? " --- |" : " ---: |";
  text += "\n";
  for (const auto& row : rows) text += line(row);
  return text;
}

std::string decimal(double value, int digits) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", digits, value);
  return text;
}

std::string percent(double share) {
  return decimal(100 * share, 2) + " %";
}

std::string seconds_text(double seconds) {
  if (seconds < 1) return decimal(seconds, 2);
  return decimal(seconds, seconds < 100 ? 1 : 0);
}

}  // namespace gp::bench
