#include "base/utf8.h"
#include "web/common_passwords.h"
#include "web/secrets.h"

#include <algorithm>
#include <cctype>
#include <string_view>
#include <vector>

#include <sodium.h>

namespace gp {
namespace {

constexpr std::size_t kLeastCharacters = 8;
constexpr std::size_t kMostCharacters = 200;
constexpr std::size_t kInventedWords = 6;  // of 260: 48 bits, behind a slow hash and few tries

// Short words that are spelled as they sound, each for a thing one can see; chosen for this list.
constexpr std::string_view kWords =
    "acorn almond amber anchor apple apron arrow attic autumn bacon badge bagel balcony banjo "
    "barley barrel basil basket beacon beaver bellow berry bicycle birch biscuit blanket blossom "
    "bonfire bottle boulder bracket bramble branch bridge bronze brook broom bucket buckle bumper "
    "bundle butter button cabin cactus candle canoe canvas captain caravan carpet carrot castle "
    "cedar cello chalk cherry chestnut chimney cinnamon circle clover cobbler cocoa compass copper "
    "coral cork corner cotton cradle crayon cricket crumble crystal cupboard curtain cushion daisy "
    "dancer desert dolphin donkey dragon drummer dumpling eagle easel echo elbow ember engine "
    "falcon feather fence fennel ferry fiddle field finger flannel flower flute forest fossil "
    "fountain fox galaxy garden garlic ginger glacier glove goblet goose gravel guitar hammer "
    "hammock harbour harvest hazel heron hollow honey horizon hornet island ivory jacket jasmine "
    "jelly jigsaw jumper juniper kettle kingfisher kitten ladder lagoon lantern lavender leather "
    "lemon lentil library lilac linen lizard lobster locket magnet maple marble market marsh "
    "meadow melon mirror mitten monkey morning mosaic mountain muffin mustard napkin needle "
    "nettle nickel nutmeg oasis ocean olive onion orbit orchard otter oven oyster paddle pancake "
    "panther paper parcel parrot parsley pastry pebble pelican pencil pepper piano pickle pigeon "
    "pillow planet plaster pocket pony poppy potato puddle pumpkin puppet quarry quilt rabbit "
    "radish raven ribbon river rocket rooster saddle saffron sailor salmon sandal satchel scarf "
    "shadow shepherd shovel signal silver sparrow spoon squirrel statue summer sunset table "
    "teapot thimble thistle thunder ticket tiger timber tomato trumpet tulip tunnel turtle "
    "umbrella valley velvet village violin walnut wagon weasel whistle willow window winter "
    "wizard yellow zebra";

std::string lower_case(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(), [](unsigned char c) {
    return static_cast<char>(c < 0x80 ? std::tolower(c) : c);
  });
  return out;
}

/// Whether a list between blanks has the word.
bool stands_in(std::string_view list, std::string_view word) {
  const auto is_blank = [](char c) { return c == ' ' || c == '\n'; };
  for (std::size_t at = list.find(word); at != std::string_view::npos;
       at = list.find(word, at + 1)) {
    const bool begins = at == 0 || is_blank(list[at - 1]);
    const std::size_t end = at + word.size();
    if (begins && (end == list.size() || is_blank(list[end]))) return true;
  }
  return false;
}

}  // namespace

std::string passphrase_fault(const std::string& passphrase, const std::string& title) {
  const std::size_t characters_given = count_characters(passphrase);
  if (characters_given < kLeastCharacters) {
    return "a passphrase has at least 8 characters; 15 or more are better, several words are best";
  }
  if (characters_given > kMostCharacters) return "a passphrase has at most 200 characters";
  const std::string low = lower_case(passphrase);
  if (low.find_first_of(" \n") == std::string::npos && stands_in(common_passwords(), low)) {
    return "this passphrase is one of the 3,000 commonest; take another";
  }
  if (low == lower_case(title) || low == "greasepaint") {
    return "the name of the film or of the program is the first thing somebody would try; take "
           "another passphrase";
  }
  if (std::all_of(low.begin(), low.end(), [&](char c) { return c == low.front(); })) {
    return "the same character over and over is soon tried; take another passphrase";
  }
  return "";
}

std::string invented_passphrase() {
  std::vector<std::string_view> words;
  std::string_view rest = kWords;
  while (!rest.empty()) {
    const std::size_t end = rest.find(' ');
    words.push_back(rest.substr(0, end));
    rest = end == std::string_view::npos ? std::string_view() : rest.substr(end + 1);
  }
  new_secret();  // starts the library
  std::string out;
  for (std::size_t i = 0; i < kInventedWords; ++i) {
    if (i > 0) out += '-';
    out += words.at(randombytes_uniform(static_cast<std::uint32_t>(words.size())));
  }
  return out;
}

std::string invented_code() {
  // without the letters and digits that are taken for one another
  static constexpr std::string_view kLetters = "abcdefghjkmnpqrstuvwxyz23456789";
  new_secret();
  std::string code;
  for (std::size_t i = 0; i < 8; ++i) {
    if (i == 4) code += '-';
    code += kLetters[randombytes_uniform(static_cast<std::uint32_t>(kLetters.size()))];
  }
  return code;
}

std::string plain_code(std::string_view given) {
  std::string out;
  for (const char c : lower_case(given)) {
    if (c != ' ' && c != '-') out += c;
  }
  return out;
}

}  // namespace gp
