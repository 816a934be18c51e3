#include "bench/options.h"

#include <algorithm>
#include <charconv>
#include <sstream>

namespace gp::bench {
namespace {

template <class Number>
bool number_in(const std::string& text, Number least, Number& number) {
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  return error == std::errc() && end == text.data() + text.size() && number >= least;
}

std::string usage(const std::vector<std::string>& sections) {
  std::string text =
      "usage: benchmarks [--only SECTION[,SECTION…]] [--seeds N] [--seconds S] [--instances N]\n"
      "                  [--threads N] [--file FILE | --print]\n"
      "Measures the planner and rewrites those sections of docs/benchmarks.md; the others stay.\n"
      "--seconds takes the place of each section's own limit, --instances takes the first N only.\n"
      "sections:";
  for (const std::string& section : sections) text += " " + section;
  return text + "\n";
}

}  // namespace

bool Options::wants(const std::string& section) const {
  return only.empty() || std::find(only.begin(), only.end(), section) != only.end();
}

std::optional<Options> read_options(const std::vector<std::string>& words,
                                    const std::vector<std::string>& sections,
                                    std::string& message) {
  Options options;
  message = usage(sections);
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    if (word == "--print") {
      options.print = true;
      continue;
    }
    if (word == "--help" || i + 1 == words.size()) return std::nullopt;
    const std::string& value = words[++i];
    bool right = true;
    if (word == "--only") {
      std::istringstream names(value);
      for (std::string name; std::getline(names, name, ',');) {
        right = right && std::find(sections.begin(), sections.end(), name) != sections.end();
        options.only.push_back(name);
      }
    } else if (word == "--seeds") {
      right = number_in(value, 1, options.seeds);
    } else if (word == "--seconds") {
      options.seconds = 0.0;
      right = number_in(value, 0.001, *options.seconds);
    } else if (word == "--instances") {
      options.most_instances = 0;
      right = number_in(value, std::size_t{1}, *options.most_instances);
    } else if (word == "--threads") {
      right = number_in(value, 1, options.threads) && options.threads <= 64;
    } else if (word == "--file") {
      options.file = value;
    } else {
      right = false;
    }
    if (!right) {
      message = "benchmarks: " + word + " cannot be \"" + value + "\"\n" + message;
      return std::nullopt;
    }
  }
  message.clear();
  return options;
}

}  // namespace gp::bench
