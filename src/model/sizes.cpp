#include "model/sizes.h"

#include <algorithm>
#include <array>
#include <charconv>

namespace gp {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// A number as the JSON Schema's pattern has it.
std::optional<double> parse_size(std::string_view text) {
  const std::size_t point = text.find('.');
  const std::string_view whole = text.substr(0, point);
  const std::string_view rest =
      point == std::string_view::npos ? std::string_view() : text.substr(point + 1);
  const bool digits = std::all_of(whole.begin(), whole.end(), is_digit) &&
                      std::all_of(rest.begin(), rest.end(), is_digit);
  if (!digits || whole.empty() || (whole.size() > 4 && text != "10000")) return std::nullopt;
  if (point != std::string_view::npos && (rest.empty() || rest.size() > 3)) return std::nullopt;
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size()) return std::nullopt;
  return value;
}

std::string size_text(double size) {
  std::array<char, 32> digits{};
  const auto [end, error] =
      std::to_chars(digits.data(), digits.data() + digits.size(), size, std::chars_format::fixed);
  return error == std::errc() ? std::string(digits.data(), end) : std::string();
}

}  // namespace

std::optional<SizeRange> parse_size_range(std::string_view text) {
  const std::size_t dash = text.find('-');
  if (dash == std::string_view::npos) return std::nullopt;
  const auto least = parse_size(text.substr(0, dash));
  const auto most = parse_size(text.substr(dash + 1));
  if (!least || !most) return std::nullopt;
  return SizeRange{*least, *most};
}

std::string format(const SizeRange& range) {
  const std::string least = size_text(range.least);
  return range.least == range.most ? least : least + "-" + size_text(range.most);
}

std::string ranges_of(const Item& item) {
  std::string text;
  for (const auto& [name, range] : item.fits) {
    text += (text.empty() ? "" : ", ") + name + " " + format(range);
  }
  return text;
}

SizeMatch size_match(const Item& item, const Person& person) {
  SizeMatch match = SizeMatch::fits;
  for (const auto& [name, range] : item.fits) {
    const auto size = person.sizes.find(name);
    if (size == person.sizes.end()) {
      match = std::max(match, SizeMatch::not_known);
    } else if (size->second < range.least || size->second > range.most) {
      return SizeMatch::does_not;
    }
  }
  return match;
}

SizeMatch size_match_or_instead(const Production& production, ItemId item, const Person& person) {
  SizeMatch best = size_match(production.items[item], person);
  for (const ItemId other : production.items[item].instead) {
    best = std::min(best, size_match(production.items[other], person));
  }
  return best;
}

SizeMatch size_match(const Production& production, const Look& look, const Person& person) {
  SizeMatch worst = SizeMatch::fits;
  for (const ItemId item : look.items) {
    worst = std::max(worst, size_match_or_instead(production, item, person));
  }
  return worst;
}

SizeMatch size_match(const Production& production, const Role& role, const Person& person) {
  if (role.look_kind != LookKind::look) return SizeMatch::fits;
  return size_match(production, production.looks[role.look], person);
}

}  // namespace gp
