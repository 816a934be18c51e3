#include "web/views.h"

#include "base/errors.h"
#include "base/files.h"
#include "web/secrets.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <functional>
#include <map>
#include <mutex>
#include <optional>
#include <utility>

#include <ctemplate/template.h>
#include <ctemplate/template_cache.h>
#include <ctemplate/template_dictionary.h>

namespace gp {

struct ViewData::Inside {
  std::vector<std::pair<std::string, std::string>> values;
  std::vector<std::pair<std::string, std::string>> markup;
  std::vector<std::pair<std::string, std::unique_ptr<ViewData>>> sections;
};

ViewData::ViewData() : inside_(std::make_unique<Inside>()) {}
ViewData::~ViewData() = default;
ViewData::ViewData(ViewData&&) noexcept = default;
ViewData& ViewData::operator=(ViewData&&) noexcept = default;

ViewData& ViewData::set(std::string_view name, std::string_view text) {
  inside_->values.emplace_back(name, text);
  return *this;
}

ViewData& ViewData::set(std::string_view name, std::int64_t number) {
  inside_->values.emplace_back(name, std::to_string(number));
  return *this;
}

ViewData& ViewData::set_markup(std::string_view name, std::string markup) {
  inside_->markup.emplace_back(name, std::move(markup));
  return *this;
}

ViewData& ViewData::add(std::string_view section) {
  inside_->sections.emplace_back(std::string(section), std::make_unique<ViewData>());
  return *inside_->sections.back().second;
}

namespace {

using SharedTemplates = std::map<std::string, std::string>;  ///< "friends/sign_up": its text

/// A stand-in made of letters alone passes every escaping unchanged; it is exchanged for the markup
/// when the page is done. Its random part is new for each page, so nobody can write one.
class Markup {
 public:
  std::string stand_in(const std::string& markup) {
    if (key_.empty()) key_ = "gpmarkup" + new_id() + new_id();
    pieces_.push_back(markup);
    return key_ + "n" + std::to_string(pieces_.size() - 1) + "e";
  }
  [[nodiscard]] std::string put_in(const std::string& page) const {
    if (pieces_.empty()) return page;
    std::string out;
    std::size_t from = 0;
    for (;;) {
      const std::size_t at = page.find(key_, from);
      if (at == std::string::npos) break;
      const std::size_t number = at + key_.size() + 1;
      const std::size_t end = page.find('e', number);
      out.append(page, from, at - from);
      out += pieces_[std::stoul(page.substr(number, end - number))];
      from = end + 1;
    }
    out.append(page, from, std::string::npos);
    return out;
  }

 private:
  std::string key_;
  std::vector<std::string> pieces_;
};

std::string html_escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      case '{':
        out += "&#123;";
        break;  // words are no template
      default:
        out += c;
    }
  }
  return out;
}

/// By the language's usual script (Unicode CLDR, layout orientation; the list is from memory).
bool runs_right_to_left(const std::string& language) {
  static constexpr std::array<std::string_view, 10> kLanguages = {
      "ar", "ckb", "dv", "fa", "he", "ps", "sd", "ug", "ur", "yi"};
  const std::string tag = language.substr(0, language.find('-'));
  return std::find(kLanguages.begin(), kLanguages.end(), tag) != kLanguages.end();
}

[[noreturn]] void broken_template(const std::string& name, const std::string& what) {
  throw WorldError("cannot use the page " + name + ": install the program again; " + what);
}

}  // namespace

class Views::Inside {
 public:
  explicit Inside(std::string templates_dir) : folder_(std::move(templates_dir) + "/pages") {
    read_templates();
    read_words();
    for (const std::string& language : languages_) {
      for (const auto& [name, text] : texts_) {
        if (name == "layout") continue;
        prepare(name, name, text, language);
        prepare("page:" + name, name, in_layout(name, text), language);
      }
    }
  }

  std::string say(std::string_view room,
                  const std::string& language,
                  std::string_view key,
                  const std::vector<WordValue>& values) {
    const std::lock_guard<std::mutex> lock(words_mutex_);
    return words_for(room, language, key).say(key, values);
  }

  std::string expand(const std::string& name,
                     const std::string& language,
                     const ViewData::Inside& data,
                     const std::function<void(ctemplate::TemplateDictionary&)>& more) {
    if (std::find(languages_.begin(), languages_.end(), language) == languages_.end()) {
      throw InternalError("there are no pages in the language “" + language + "”");
    }
    const std::string key = language + ":" + name;
    if (!known_.contains(key)) throw InternalError("there is no page “" + name + "”");
    Markup markup;
    ctemplate::TemplateDictionary dictionary("page");
    if (more) more(dictionary);
    fill(dictionary, data, markup);
    std::string out;
    if (!cache_.ExpandWithData(key, ctemplate::STRIP_BLANK_LINES, &dictionary, nullptr, &out)) {
      throw InternalError("the page “" + name + "” could not be filled in");
    }
    return markup.put_in(out);
  }

  std::vector<std::string> languages_;

 private:
  static void fill(ctemplate::TemplateDictionary& dictionary,
                   const ViewData::Inside& data,
                   Markup& markup) {
    for (const auto& [name, text] : data.values) dictionary.SetValue(name, text);
    for (const auto& [name, text] : data.markup) dictionary.SetValue(name, markup.stand_in(text));
    for (const auto& [name, section] : data.sections) {
      fill(*dictionary.AddSectionDictionary(name), *section->inside_, markup);
    }
  }

  void read_templates() {
    std::error_code error;
    if (!std::filesystem::exists(folder_ + "/layout.html", error)) {
      broken_template("layout", folder_ + "/layout.html is not there");
    }
    const std::filesystem::path base(folder_);
    for (const auto& entry : std::filesystem::recursive_directory_iterator(base)) {
      if (entry.path().extension() != ".html") continue;
      std::string name = entry.path().lexically_relative(base).string();
      name.resize(name.size() - 5);
      constexpr std::size_t kMostTemplateBytes = 1'000'000;
      std::string text = Disk().read(entry.path().string(), kMostTemplateBytes);
      // every value is escaped for where it stands; set_markup() is the one way around it
      if (text.find(":none") != std::string::npos) broken_template(name, "it says :none");
      if (text.find("AUTOESCAPE") != std::string::npos) {
        broken_template(name, "it says AUTOESCAPE, which is put in for every page");
      }
      texts_.emplace(std::move(name), std::move(text));
    }
  }

  void read_words() {
    shared_ = std::make_unique<WordBook>(folder_ + "/words");
    for (const auto& entry : std::filesystem::directory_iterator(folder_ + "/words")) {
      if (entry.path().extension() == ".json") languages_.push_back(entry.path().stem().string());
    }
    std::sort(languages_.begin(), languages_.end());
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(folder_)) {
      if (!std::filesystem::exists(entry.path() / "words" / "en.json", error)) continue;
      rooms_.emplace(entry.path().filename().string(),
                     std::make_unique<WordBook>((entry.path() / "words").string()));
    }
  }

  const Words& words_for(std::string_view room, const std::string& language, std::string_view key) {
    if (const auto found = rooms_.find(room); found != rooms_.end()) {
      const Words& words = found->second->in(language);
      if (words.has(key)) return words;
    }
    return shared_->in(language);
  }

  std::string in_layout(const std::string& name, const std::string& text) {
    static constexpr std::string_view kPlace = "{{>CONTENT}}";
    std::string layout = texts_.at("layout");
    const std::size_t at = layout.find(kPlace);
    if (at == std::string::npos) broken_template(name, "the layout has no place {{>CONTENT}}");
    return layout.replace(at, kPlace.size(), text);
  }

  /// Puts the words in and hands the template to the library.
  void prepare(const std::string& key,
               const std::string& name,
               const std::string& text,
               const std::string& language) {
    const std::string room = name.substr(0, name.find('/'));
    std::string out = "{{%AUTOESCAPE context=\"HTML\"}}";
    std::size_t from = 0;
    for (;;) {
      const std::size_t at = text.find("[[", from);
      if (at == std::string::npos) break;
      const std::size_t end = text.find("]]", at);
      if (end == std::string::npos) broken_template(name, "[[ without ]]");
      const std::string word = text.substr(at + 2, end - at - 2);
      const Words& words = words_for(room, language, word);
      if (!words.has(word)) broken_template(name, "there are no words for [[" + word + "]]");
      out.append(text, from, at - from);
      out += html_escaped(words.say(word));
      from = end + 2;
    }
    out.append(text, from, std::string::npos);
    const std::string full = language + ":" + key;
    if (!cache_.StringToTemplateCache(full, out, ctemplate::STRIP_BLANK_LINES)) {
      broken_template(name, "its places {{…}} are broken, or stand where nothing can be escaped");
    }
    known_.emplace(full, true);
  }

  std::string folder_;
  SharedTemplates texts_;
  std::mutex words_mutex_;
  std::unique_ptr<WordBook> shared_;
  std::map<std::string, std::unique_ptr<WordBook>, std::less<>> rooms_;
  std::map<std::string, bool> known_;
  ctemplate::TemplateCache cache_;
};

Views::Views(std::string templates_dir)
    : inside_(std::make_unique<Inside>(std::move(templates_dir))) {}
Views::~Views() = default;

const std::vector<std::string>& Views::languages() const {
  return inside_->languages_;
}

std::string Views::language_for(std::string_view accepted) const {
  const std::vector<std::string>& all = inside_->languages_;
  std::string best;
  int best_weight = 0;
  while (!accepted.empty()) {
    const std::size_t end = accepted.find(',');
    std::string range;
    std::string weight_text;
    bool in_weight = false;
    for (const char c : accepted.substr(0, end)) {
      if (c == ' ' || c == '\t') continue;
      if (c == ';') in_weight = true;
      (in_weight ? weight_text : range) +=
          static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    }
    accepted = end == std::string_view::npos ? std::string_view() : accepted.substr(end + 1);
    // ";q=0.8": thousandths (RFC 9110, section 12.4.2)
    int weight = 1000;
    if (weight_text.starts_with(";q=0")) {
      weight = 0;
      int unit = 100;
      for (std::size_t i = 5; i < weight_text.size() && unit > 0; ++i, unit /= 10) {
        if (weight_text[i] >= '0' && weight_text[i] <= '9') weight += (weight_text[i] - '0') * unit;
      }
    }
    for (std::string tag = range; !tag.empty();) {
      const auto same = [&](const std::string& language) {
        return std::equal(
            language.begin(), language.end(), tag.begin(), tag.end(), [](char a, char b) {
              return std::tolower(static_cast<unsigned char>(a)) == b;
            });
      };
      const auto found = std::find_if(all.begin(), all.end(), same);
      if (found != all.end()) {
        if (weight > best_weight) {
          best = *found;
          best_weight = weight;
        }
        break;
      }
      const std::size_t hyphen = tag.rfind('-');
      tag = hyphen == std::string::npos ? "" : tag.substr(0, hyphen);
    }
  }
  return best.empty() ? "en" : best;
}

std::string Views::page(std::string_view page, const ViewData& data, const Frame& frame) {
  const auto more = [&](ctemplate::TemplateDictionary& dictionary) {
    dictionary.SetValue("TITLE", frame.title);
    dictionary.SetValue("LANGUAGE", frame.language);
    dictionary.SetValue("DIRECTION", runs_right_to_left(frame.language) ? "rtl" : "ltr");
    dictionary.SetValue("ROOM", frame.room);
    dictionary.SetValue("FILM", frame.film);
    dictionary.SetValue("CONTACT", frame.contact);
    dictionary.SetValue("CSRF", frame.csrf);
    if (!frame.film.empty()) dictionary.ShowSection("HAS_FILM");
    if (!frame.contact.empty()) dictionary.ShowSection("HAS_CONTACT");
    if (frame.organiser) dictionary.ShowSection("ORGANISER");
    if (frame.plain_http) dictionary.ShowSection("PLAIN_HTTP");
  };
  return inside_->expand("page:" + std::string(page), frame.language, *data.inside_, more);
}

std::string Views::part(std::string_view page, const ViewData& data, const std::string& language) {
  return inside_->expand(std::string(page), language, *data.inside_, {});
}

std::string Views::say(std::string_view room,
                       const std::string& language,
                       std::string_view key,
                       const std::vector<WordValue>& values) {
  return inside_->say(room, language, key, values);
}

}  // namespace gp
