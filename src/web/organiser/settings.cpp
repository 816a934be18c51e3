#include "store/settings.h"

#include "model/limits.h"
#include "sheets/poster.h"
#include "store/json_diff.h"
#include "web/organiser/common.h"
#include "web/organiser/form.h"
#include "web/qr.h"
#include "web/secrets.h"

namespace gp {
namespace {

const char* const kRoom = "settings";
constexpr std::size_t kMostAbout = 2000;
constexpr std::size_t kMostConsent = 4000;
constexpr std::size_t kMostSecret = 512;  // bytes

/// The form changes two documents; to it they are one entry with two members.
Document both_documents(const BookState& state) {
  Document both = Document::object();
  both["settings"] = state.settings.is_object() ? state.settings : Document::object();
  both["production"] = Document::object();
  for (const char* const key : {"title", "contact"}) {
    if (state.production_document->contains(key)) {
      both["production"][key] = state.production_document->at(key);
    }
  }
  return both;
}

FormField plain_field(Visit& visit, const char* key, const std::string& was, std::size_t most) {
  FormField field = line_field(visit, kRoom, key, Document::object(), most);
  field.was = field.value = was;
  return field;
}

FormField tick_field(Visit& visit, const char* key, bool was, bool otherwise) {
  FormField field = plain_field(visit, key, was ? "1" : "", 1);
  field.kind = FormField::Kind::tick;
  field.put = [key, otherwise](Document& into, const std::string& value) {
    const bool now = !value.empty();
    put_member(into["settings"], key, now == otherwise ? Document() : Document(now));
    return std::string();
  };
  return field;
}

FormField number_field(
    Visit& visit, const char* key, const std::string& was, std::int64_t least, std::int64_t most) {
  FormField field = plain_field(visit, key, was, 20);
  field.kind = FormField::Kind::number;
  const std::string wrong =
      organiser_words(visit, "form.between", {{"least", least}, {"most", most}});
  field.put = [=](Document& into, const std::string& value) {
    const auto number = whole_number(value, least, most);
    if (!value.empty() && !number) return wrong;
    put_member(into["settings"], key, number ? Document(*number) : Document());
    return std::string();
  };
  return field;
}

FormField long_field(Visit& visit, const char* key, const std::string& was, std::size_t most) {
  FormField field = plain_field(visit, key, was, most);
  field.kind = FormField::Kind::text;
  field.put = [key](Document& into, const std::string& value) {
    put_member(into["settings"], key, value);
    return std::string();
  };
  return field;
}

FormField contact_field(Visit& visit, const char* key, const char* member, const Document& both) {
  const Document& production = both.at("production");
  const std::string was =
      production.contains("contact") ? member_text(production.at("contact"), member) : "";
  FormField field = plain_field(visit, key, was, limits::kNameCharacters);
  field.put = [member](Document& into, const std::string& value) {
    Document& film = into["production"];
    Document contact = film.contains("contact") ? film.at("contact") : Document::object();
    put_member(contact, member, value);
    if (contact.empty()) {
      film.erase("contact");
    } else {
      film["contact"] = std::move(contact);
    }
    return std::string();
  };
  return field;
}

EntryForm settings_form(Visit& visit, const BookState& state) {
  const Settings settings = read_settings(state.settings);
  const Document both = both_documents(state);
  EntryForm form;
  form.heading(organiser_words(visit, "settings.film"));
  FormField title = plain_field(
      visit, "title", member_text(both.at("production"), "title"), limits::kNameCharacters);
  title.must = true;
  title.put = [](Document& into, const std::string& value) {
    into["production"]["title"] = value;
    return std::string();
  };
  form.add(std::move(title));
  form.add(long_field(visit, "about", settings.about, kMostAbout));
  form.add(contact_field(visit, "contact_name", "name", both));
  form.add(contact_field(visit, "contact_phone", "phone", both));
  form.heading(organiser_words(visit, "settings.sign_ups"));
  form.add(tick_field(visit, "sign_ups_open", settings.sign_ups_open, true));
  form.add(tick_field(visit, "accept_at_once", settings.accept_at_once, false));
  form.add(number_field(visit,
                        "most_people",
                        settings.most_people ? std::to_string(*settings.most_people) : "",
                        0,
                        100'000));
  form.heading(organiser_words(visit, "settings.private"));
  form.add(long_field(visit, "consent", settings.consent, kMostConsent));
  form.add(number_field(
      visit, "forget_after_days", std::to_string(settings.forget_after_days), 1, 3650));
  return form;
}

struct SettingsShown {
  Revision seen = 0;
  std::vector<std::string> others;
  const std::vector<Collision>* collisions = nullptr;
  std::string new_code;        ///< of the door, shown this once
  std::string secret_problem;  ///< with the passphrase
  std::string secret_field;    ///< "old_passphrase" or "new_passphrase"
  int status = 200;
};

/// A QR code as a picture: black on white whatever the page's colours, with the white of four
/// squares around it that readers need (ISO/IEC 18004, quiet zone).
std::string draw_code(const Squares& squares) {
  constexpr std::ptrdiff_t kQuiet = 4;
  const auto side = static_cast<std::ptrdiff_t>(squares.side);
  std::string path;
  for (std::ptrdiff_t row = 0; row < side; ++row) {
    for (std::ptrdiff_t column = 0; column < side; ++column) {
      if (!squares.at(row, column)) continue;
      std::ptrdiff_t end = column + 1;
      while (squares.at(row, end)) ++end;
      path += "M" + std::to_string(column + kQuiet) + " " + std::to_string(row + kQuiet) + "h" +
              std::to_string(end - column) + "v1h-" + std::to_string(end - column) + "z";
      column = end - 1;
    }
  }
  const std::string size = std::to_string(side + 2 * kQuiet);
  return "<svg class=\"code\" aria-hidden=\"true\" focusable=\"false\" viewBox=\"0 0 " + size +
         " " + size + "\" shape-rendering=\"crispEdges\"><rect width=\"" + size + "\" height=\"" +
         size + "\" fill=\"#fff\"/><path fill=\"#000\" d=\"" + path + "\"/></svg>";
}

HttpAnswer show_settings(Visit& visit, const EntryForm& form, const SettingsShown& shown) {
  const std::string address = visit.site.parts().address;
  ViewData data;
  show_done(visit, data);
  form.show_problems(data, shown.others);
  data.set("CSRF", visit.csrf).set("SEEN", shown.seen).set("ADDRESS", address + "/");
  data.set_markup("FIELDS", form.draw(visit));  // drawn by a template, which escaped every value
  // made by draw_code() of numbers alone
  data.set_markup("QR_PICTURE", draw_code(qr_code(address + "/")));
  if (!shown.secret_problem.empty()) {
    data.add("SECRET_PROBLEM").set("TEXT", shown.secret_problem).set("NAME", shown.secret_field);
    data.add(shown.secret_field == "old_passphrase" ? "OLD_WRONG" : "NEW_WRONG")
        .set("TEXT", shown.secret_problem);
  }
  if (!shown.new_code.empty()) data.add("NEW_CODE").set("CODE", shown.new_code);
  data.show(visit.site.book().secret("door-code").empty() ? "NO_CODE" : "HAS_CODE");
  if (query_of(visit, "passphrase") == "1") data.show("PASSPHRASE_CHANGED");
  if (query_of(visit, "door") == "0") data.show("CODE_GONE");
  if (shown.collisions != nullptr) add_collisions(visit, data, *shown.collisions);
  const std::string title = organiser_words(visit, "settings.title");
  return visit.site.show(
      visit,
      "organiser/settings",
      shown.status == 200 ? title : organiser_words(visit, "form.error_title", {{"title", title}}),
      data,
      shown.status);
}

SettingsShown shown_at(const BookState& state) {
  SettingsShown shown;
  shown.seen = state.revision;
  return shown;
}

HttpAnswer open_settings(Visit& visit) {
  const auto state = visit.site.book().state();
  return show_settings(visit, settings_form(visit, *state), shown_at(*state));
}

HttpAnswer keep_settings(Visit& visit) {
  const auto state = state_seen(visit);
  EntryForm form = settings_form(visit, *state);
  form.read(visit.request);
  SettingsShown shown = shown_at(*state);
  shown.status = 422;
  const Document before = both_documents(*state);
  Document after = before;
  if (!form.apply(visit, after)) return show_settings(visit, form, shown);
  Change change;
  change.who = "organiser";
  change.why = "changed the settings";
  change.at = visit.now;
  change.seen = state->revision;
  if (!(after["settings"] == before.at("settings"))) {
    Document patch = difference(before.at("settings"), after["settings"]);
    if (state->settings.is_null()) {
      patch = Document::array({{{"op", "add"}, {"path", ""}, {"value", after["settings"]}}});
    }
    change.edits.push_back({"settings", std::move(patch)});
  }
  Document patch = difference(before.at("production"), after["production"]);
  if (!patch.empty()) change.edits.push_back({"production", std::move(patch)});
  if (change.edits.empty()) return HttpAnswer::go_to("/organise/settings");
  const auto result = visit.site.book().change(std::move(change));
  if (const auto* refusal = std::get_if<Refusal>(&result)) {
    if (refusal->collisions.empty()) {
      shown.others = form.tell(refusal->faults, "");
      return show_settings(visit, form, shown);
    }
    const auto newest = visit.site.book().state();
    EntryForm again = settings_form(visit, *newest);
    again.take_changes_of(form);
    shown.seen = newest->revision;
    shown.collisions = &refusal->collisions;
    shown.status = 409;
    return show_settings(visit, again, shown);
  }
  return after_change(visit, result, "/organise/settings");
}

HttpAnswer change_passphrase(Visit& visit) {
  const auto state = visit.site.book().state();
  Book& book = visit.site.book();
  SettingsShown shown = shown_at(*state);
  shown.status = 422;
  const std::string old = visit.request.field("old_passphrase").substr(0, kMostSecret);
  const std::string wanted = visit.request.field("new_passphrase");
  // a browser left open must not be enough to lock its owner out; tries are counted with the
  // log-ins
  const auto entry = visit.site.sessions().log_in(
      Sessions::Role::organiser, old, visit.request.address, "", visit.now);
  if (entry.result != Sessions::Try::let_in) {
    shown.secret_problem = organiser_words(
        visit,
        entry.result == Sessions::Try::too_often ? "settings.too_often" : "settings.old_wrong");
    shown.secret_field = "old_passphrase";
    visit.site.log("the passphrase was not changed: the old one was wrong");
    return show_settings(visit, settings_form(visit, *state), shown);
  }
  visit.site.sessions().log_out(entry.cookie);  // only the check was wanted
  const std::string fault = wanted.size() > kMostSecret
                                ? organiser_words(visit, "settings.new_too_long")
                                : passphrase_fault(wanted, state->production->title);
  if (!fault.empty()) {
    shown.secret_problem = fault;
    shown.secret_field = "new_passphrase";
    return show_settings(visit, settings_form(visit, *state), shown);
  }
  book.set_secret("passphrase", hash_passphrase(wanted));
  visit.site.log("the passphrase was changed");
  // the change has ended every session; who made it stays in
  HttpAnswer answer = HttpAnswer::go_to("/organise/settings?passphrase=1");
  const auto again = visit.site.sessions().log_in(
      Sessions::Role::organiser, wanted, visit.request.address, "", visit.now);
  if (again.result == Sessions::Try::let_in) {
    answer.cookies.push_back({std::string(kSessionCookie), again.cookie, std::nullopt});
  }
  return answer;
}

/// A new code for the door is shown in the answer to the form, this once; only its hash is kept.
HttpAnswer change_door_code(Visit& visit) {
  const auto state = visit.site.book().state();
  if (visit.request.field("code") == "none") {
    visit.site.book().set_secret("door-code", "");
    visit.site.log("the door's code was taken away");
    return HttpAnswer::go_to("/organise/settings?door=0");
  }
  SettingsShown shown = shown_at(*state);
  shown.new_code = invented_code();
  visit.site.book().set_secret("door-code", hash_passphrase(plain_code(shown.new_code)));
  visit.site.log("the door's code was made anew");
  return show_settings(visit, settings_form(visit, *state), shown);
}

/// Made anew each time: it is asked for once or twice in a film's life.
HttpAnswer download_poster(Visit& visit, const std::string& name, const char* type) {
  const std::string address = visit.site.parts().address + "/";
  PosterWishes wishes;
  wishes.address = address;
  wishes.code = qr_code(address);
  wishes.templates_dir = visit.site.parts().templates_dir;
  const auto state = visit.site.book().state();
  for (const SheetFile& file : make_poster(*state->production, wishes).files) {
    if (file.name == name) return HttpAnswer::download(type, file.name, file.bytes);
  }
  return visit.site.show_error(visit, 404);
}

}  // namespace

void add_settings_pages(Site& site) {
  site.add({"GET", "/organise/settings", Access::organiser, open_settings});
  site.add({"POST", "/organise/settings", Access::organiser, keep_settings});
  site.add({"POST", "/organise/settings/passphrase", Access::organiser, change_passphrase});
  site.add({"GET", "/organise/poster.pdf", Access::organiser, [](Visit& visit) {
              return download_poster(visit, "poster.pdf", "application/pdf");
            }});
  site.add({"GET", "/organise/poster.png", Access::organiser, [](Visit& visit) {
              return download_poster(visit, "poster.png", "image/png");
            }});
  site.add({"POST", "/organise/settings/door-code", Access::organiser, change_door_code});
}

}  // namespace gp
