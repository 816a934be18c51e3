#pragma once

#include "text/words.h"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

/// What a template has places for. A value is text and is escaped for the place it stands in; a
/// section is shown once for each time it was added, and not at all if never.
class ViewData {
 public:
  ViewData();
  ~ViewData();
  ViewData(ViewData&&) noexcept;
  ViewData& operator=(ViewData&&) noexcept;

  ViewData& set(std::string_view name, std::string_view text);  ///< {{NAME}}
  ViewData& set(std::string_view name, std::int64_t number);
  /// Markup that is ours through and through (the drawing of a plan): put in as it is. The only way
  /// around escaping; each use says why it is safe.
  ViewData& set_markup(std::string_view name, std::string markup);
  ViewData& add(std::string_view section);  ///< {{#SECTION}} … {{/SECTION}}; the new one's data
  void show(std::string_view section) { add(section); }

 private:
  friend class Views;
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

/// The templates: `templates/pages/<room>/<name>.html`, each put into
/// `templates/pages/layout.html` where that says `{{>CONTENT}}`. Syntax: ctemplate's, all escaping
/// by context. `[[key]]` in a template stands for the words of that key in the reader's language
/// (`templates/pages/<room>/words/<language>.json`, then `templates/pages/words/<language>.json`),
/// put in when the template is loaded; a sentence with values is made by say() and set.
/// The layout (and any page) may use the frame: {{TITLE}} {{LANGUAGE}} {{DIRECTION}} (ltr or rtl)
/// {{ROOM}} {{FILM}} {{CONTACT}} {{CSRF}}, and the sections HAS_FILM, HAS_CONTACT, ORGANISER,
/// PLAIN_HTTP. Threads: any.
class Views {
 public:
  /// \throws WorldError  a template is missing or broken, or names words there are none for
  explicit Views(std::string templates_dir);
  ~Views();
  Views(const Views&) = delete;
  Views& operator=(const Views&) = delete;

  /// The best language there is for an Accept-Language header or a tag.
  [[nodiscard]] std::string language_for(std::string_view accepted) const;
  [[nodiscard]] const std::vector<std::string>& languages() const;

  /// A whole page.
  /// \param page   "friends/sign_up"
  /// \param title  shown first in the window's title
  struct Frame {
    std::string title;
    std::string language;
    std::string room;         ///< class of the body: "friends", "organiser", "door"
    std::string film;         ///< the production's title
    std::string contact;      ///< "Ada, 0131 496 0000": help, in the same place on each page
    std::string csrf;         ///< for the layout's own forms (log out)
    bool organiser = false;   ///< shows the organiser's way about
    bool plain_http = false;  ///< shows the warning about an open network
  };
  [[nodiscard]] std::string page(std::string_view page, const ViewData& data, const Frame& frame);
  /// A template alone, for parts of a page.
  [[nodiscard]] std::string part(std::string_view page,
                                 const ViewData& data,
                                 const std::string& language);
  /// One sentence, plain text, for values that are made in code. `room` as in "friends".
  [[nodiscard]] std::string say(std::string_view room,
                                const std::string& language,
                                std::string_view key,
                                const std::vector<WordValue>& values = {});

 private:
  class Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace gp
