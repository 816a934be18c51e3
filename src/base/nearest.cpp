#include "base/nearest.h"

#include "base/utf8.h"

#include <algorithm>
#include <array>
#include <cstddef>

namespace gp {
namespace {

constexpr std::size_t kLongest = 64;

char32_t small(char32_t c) {
  const bool latin = (c >= U'A' && c <= U'Z') || (c >= 0xC0 && c <= 0xDE && c != 0xD7);
  const bool greek = c >= 0x391 && c <= 0x3A9;
  if (latin || greek || (c >= 0x410 && c <= 0x42F)) return c + 0x20;
  if (c >= 0x400 && c <= 0x40F) return c + 0x50;
  return c;
}

std::u32string small_characters(std::string_view name) {
  std::u32string result = characters(name);
  for (char32_t& c : result) c = small(c);
  return result;
}

}  // namespace

std::size_t edits(std::u32string_view a, std::u32string_view b, std::size_t most) {
  if (a.size() > b.size()) std::swap(a, b);
  if (b.size() - a.size() > most || a.size() > kLongest) return most + 1;
  using Row = std::array<std::size_t, kLongest + 1>;
  Row before_last{};
  Row last{};
  Row now{};
  for (std::size_t j = 0; j <= a.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= b.size(); ++i) {
    now[0] = i;
    std::size_t least = i;
    for (std::size_t j = 1; j <= a.size(); ++j) {
      const std::size_t replaced = last[j - 1] + (a[j - 1] == b[i - 1] ? 0 : 1);
      now[j] = std::min({replaced, last[j] + 1, now[j - 1] + 1});
      if (i > 1 && j > 1 && a[j - 1] == b[i - 2] && a[j - 2] == b[i - 1]) {
        now[j] = std::min(now[j], before_last[j - 2] + 1);
      }
      least = std::min(least, now[j]);
    }
    // a swap reaches over one row, so only two rows above the limit end it
    if (least > most + 1) return most + 1;
    before_last = last;
    last = now;
  }
  return std::min(last[a.size()], most + 1);
}

std::string nearest(std::string_view name, const std::vector<std::string>& valid) {
  if (name.size() > 4 * kLongest) return {};
  const std::u32string wanted = small_characters(name);
  if (wanted.empty() || wanted.size() > kLongest) return {};
  const std::string* best = nullptr;
  std::size_t best_edits = kLongest;
  const std::string* begun = nullptr;
  for (const std::string& candidate : valid) {
    if (candidate.size() > 4 * kLongest) continue;
    const std::u32string other = small_characters(candidate);
    const std::size_t most = std::min(std::max(wanted.size(), other.size()) / 3, best_edits - 1);
    if (const std::size_t needed = edits(wanted, other, most); needed <= most) {
      best = &candidate;
      best_edits = needed;
      if (needed == 0) break;
    }
    constexpr std::size_t kLeastBeginning = 3;
    if (begun == nullptr && wanted.size() >= kLeastBeginning && other.starts_with(wanted)) {
      begun = &candidate;
    }
  }
  if (best == nullptr) best = begun;
  return best == nullptr ? std::string() : *best;
}

}  // namespace gp
