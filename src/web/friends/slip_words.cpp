#include "web/friends/slip_words.h"

namespace gp {

std::string SlipWords::say(const std::string& language,
                           std::string_view key,
                           const std::vector<WordValue>& values) {
  const std::lock_guard<std::mutex> lock(mutex_);
  return book_.in(language).say(key, values);
}

SlipWords::Caution SlipWords::caution(const std::string& language, const std::string& hazard) {
  const std::lock_guard<std::mutex> lock(mutex_);
  const Words& words = book_.in(language);
  const std::string key = "caution." + hazard;
  if (!words.has(key + ".brief")) return {hazard, words.say("caution.unknown")};
  return {words.say(key + ".name"), words.say(key + ".text")};
}

}  // namespace gp
