#pragma once

#include "text/words.h"

#include <mutex>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace gp {

/// The sentences of the printed slips and their cautions, for the pages. Threads: any.
class SlipWords {
 public:
  /// \param folder  holds en.json and its neighbours
  explicit SlipWords(std::string folder) : book_(std::move(folder)) {}

  std::string say(const std::string& language,
                  std::string_view key,
                  const std::vector<WordValue>& values = {});
  struct Caution {
    std::string name, text;
  };
  Caution caution(const std::string& language, const std::string& hazard);

 private:
  std::mutex mutex_;
  WordBook book_;
};

}  // namespace gp
