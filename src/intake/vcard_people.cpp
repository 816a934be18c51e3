#include "base/utf8.h"
#include "intake/values.h"
#include "intake/vcard.h"
#include "model/limits.h"
#include "model/texts.h"
#include "text/fold.h"

#include <algorithm>
#include <charconv>
#include <set>
#include <sstream>

namespace gp {
namespace {

using Properties = std::vector<const CardProperty*>;

/// 1 is the most preferred; 101: nothing is said. Sources: RFC 6350 section 5.3, RFC 2426 section
/// 3.3.1 (TYPE=pref).
int preference(const CardProperty& property) {
  const auto pref = property.parameters.find("PREF");
  if (pref != property.parameters.end()) {
    const std::string& text = pref->second.front();
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error == std::errc() && end == text.data() + text.size() && value >= 1 && value <= 100) {
      return value;
    }
  }
  return property.is_type("pref") ? 1 : 101;
}

/// Phones one can be reached at on the way come before others, faxes last.
int phone_rank(const CardProperty& property) {
  if (property.is_type("fax") || property.is_type("pager") || property.is_type("modem")) return 3;
  if (property.is_type("cell") || property.is_type("text")) return 0;
  return 1;
}

std::string phone_text(const CardProperty& property) {
  std::string text = trimmed(on_one_line(card_text(property.value)));
  if (text.size() > 4 && (text.starts_with("tel:") || text.starts_with("TEL:"))) text.erase(0, 4);
  const std::size_t extension = text.find(";ext=");
  if (extension != std::string::npos) {
    std::string number = text.substr(extension + 5);
    number = number.substr(0, number.find(';'));
    text = text.substr(0, extension) + " ext. " + number;
  }
  return text;
}

std::string mail_text(const CardProperty& property) {
  std::string text = trimmed(on_one_line(card_text(property.value)));
  if (text.starts_with("mailto:") || text.starts_with("MAILTO:")) text.erase(0, 7);
  return text;
}

/// Family;given;additional;before;after (RFC 6350 section 6.2.2) in the order it is said.
std::string structured_name(const CardProperty& property) {
  const std::vector<std::string> parts = card_pieces(property.value, ';');
  std::string out;
  for (const std::size_t part : {std::size_t{1}, std::size_t{2}, std::size_t{0}}) {
    if (part >= parts.size()) continue;
    std::string words = parts[part];
    std::replace(words.begin(), words.end(), ',', ' ');
    words = trimmed(on_one_line(words));
    if (!words.empty()) out += (out.empty() ? "" : " ") + words;
  }
  return out;
}

class CardPeople {
 public:
  CardPeople(const std::string& file, std::size_t& pictures) : file_(file), pictures_(pictures) {}

  IncomingPeople read(const CardsRead& cards) {
    out_.bad = cards.bad;
    for (const Card& card : cards.cards) read_card(card);
    std::stable_sort(out_.bad.begin(), out_.bad.end(), [](const BadLine& a, const BadLine& b) {
      return a.line < b.line;
    });
    return std::move(out_);
  }

 private:
  void read_card(const Card& card) {
    IncomingPerson incoming;
    incoming.file = file_;
    incoming.line = card.line;
    Person& person = incoming.person;
    person.name = name_of_card(card);
    if (const std::string kind = kind_of(card); !kind.empty() && kind != "individual") {
      out_.bad.push_back(
          {card.line, "a card that is no person's (KIND:" + kind + ")", person.name});
      return;
    }
    if (person.name.empty()) {
      out_.bad.push_back({card.line, "a card without a name", {}});
      return;
    }
    if (count_characters(person.name) > limits::kNameCharacters) {
      out_.bad.push_back(
          {card.line,
           "a name of more than " + std::to_string(limits::kNameCharacters) + " characters",
           shortened(person.name, 80)});
      return;
    }
    who_ = person.name;
    choose(card, "TEL", person.phone);
    choose(card, "EMAIL", person.email);
    for (const CardProperty& property : card.properties) read_property(property, person);
    out_.people.push_back(std::move(incoming));
  }

  static std::string kind_of(const Card& card) {
    for (const CardProperty& property : card.properties) {
      if (property.name != "KIND") continue;
      std::string kind = trimmed(property.value);
      std::transform(kind.begin(), kind.end(), kind.begin(), [](char c) {
        return c >= 'A' && c <= 'Z' ? static_cast<char>(c + ('a' - 'A')) : c;
      });
      return kind;
    }
    return {};
  }

  static std::string name_of_card(const Card& card) {
    for (const char* const source : {"FN", "N", "NICKNAME", "ORG"}) {
      const CardProperty* best = nullptr;
      for (const CardProperty& property : card.properties) {
        if (property.name != source) continue;
        if (best == nullptr || preference(property) < preference(*best)) best = &property;
      }
      if (best == nullptr) continue;
      std::string name = std::string_view(source) == "N"
                             ? structured_name(*best)
                             : trimmed(on_one_line(card_pieces(best->value, ';').front()));
      if (std::string_view(source) == "FN") name = trimmed(on_one_line(card_text(best->value)));
      if (!name.empty()) return name;
    }
    return {};
  }

  /// The preferred one of several; the others are told.
  void choose(const Card& card, std::string_view name, std::string& out) {
    Properties all;
    for (const CardProperty& property : card.properties) {
      if (property.name == name) all.push_back(&property);
    }
    const bool phones = name == "TEL";
    std::stable_sort(all.begin(), all.end(), [&](const CardProperty* a, const CardProperty* b) {
      const int rank_a = phones ? phone_rank(*a) : 0;
      const int rank_b = phones ? phone_rank(*b) : 0;
      if ((rank_a == 3) != (rank_b == 3)) return rank_b == 3;
      return std::pair(preference(*a), rank_a) < std::pair(preference(*b), rank_b);
    });
    for (const CardProperty* const property : all) {
      const std::string text = phones ? phone_text(*property) : mail_text(*property);
      if (text.empty()) continue;
      if (count_characters(text) > limits::kNameCharacters) {
        leave(*property, text, "longer than 200 characters");
      } else if (phones && phone_rank(*property) == 3) {
        leave(*property, text, "no phone to speak on");
      } else if (out.empty()) {
        out = text;
      } else if (out != text) {
        leave(
            *property, text, phones ? "a person has one phone here" : "a person has one mail here");
      }
    }
  }

  void read_property(const CardProperty& property, Person& person) {
    static const std::set<std::string, std::less<>> kOfTheCard = {"VERSION",
                                                                  "PRODID",
                                                                  "REV",
                                                                  "UID",
                                                                  "KIND",
                                                                  "CLASS",
                                                                  "PROFILE",
                                                                  "SOURCE",
                                                                  "SORT-STRING",
                                                                  "CLIENTPIDMAP",
                                                                  "TEL",
                                                                  "EMAIL"};
    static const std::set<std::string, std::less<>> kPictures = {"PHOTO", "LOGO", "SOUND", "KEY"};
    if (kOfTheCard.contains(property.name)) return;
    if (kPictures.contains(property.name)) {
      ++pictures_;
      return;
    }
    if (property.name == "BDAY") {
      read_birthday(property, person);
    } else if (property.name == "LANG" && person.language.empty() &&
               is_language_tag(trimmed(property.value))) {
      person.language = trimmed(property.value);
    } else if (property.name == "FN" || property.name == "N") {
      read_other_name(property, person);
    } else {
      leave(property, told(property), "there is no place for it in a production");
    }
  }

  void read_birthday(const CardProperty& property, Person& person) {
    const auto date = date_of(card_text(property.value), DateOrder::unknown);
    if (date && !person.born) {
      person.born = date;
    } else {
      leave(property, told(property), "no date with its year (2015-04-03)");
    }
  }

  /// The name in its parts says the same again, but for titles and the like.
  void read_other_name(const CardProperty& property, const Person& person) {
    std::set<std::string> known;
    std::istringstream taken(folding_.words(person.name));
    for (std::string word; taken >> word;) known.insert(word);
    std::istringstream said(folding_.words(told(property)));
    for (std::string word; said >> word;) {
      if (!known.contains(word)) {
        leave(property, told(property), "the name taken is \"" + person.name + "\"");
        return;
      }
    }
  }

  /// The value as it reads: pieces with blanks between.
  static std::string told(const CardProperty& property) {
    std::string out;
    for (const std::string& piece : card_pieces(property.value, ';')) {
      const std::string one = trimmed(without_controls(piece));
      if (!one.empty()) out += (out.empty() ? "" : "; ") + one;
    }
    return out;
  }

  void leave(const CardProperty& property, const std::string& text, const std::string& why) {
    if (text.empty()) return;
    out_.left_out.push_back({file_, property.line, who_, property.name, text, why});
  }

  const std::string& file_;
  std::size_t& pictures_;
  Folding folding_;
  std::string who_;
  IncomingPeople out_;
};

}  // namespace

IncomingPeople people_of_cards(const CardsRead& read,
                               const std::string& file,
                               std::size_t& pictures) {
  return CardPeople(file, pictures).read(read);
}

}  // namespace gp
