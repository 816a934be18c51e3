#include "store/json_diff.h"
#include "text/dates.h"
#include "time/clock.h"
#include "web/likes.h"
#include "web/organiser/common.h"
#include "web/organiser/scene_form.h"

#include <algorithm>

namespace gp {
namespace {

const Document& scene_at(const Document& production, std::size_t place) {
  return production.at("scenes").at(place);
}

HttpAnswer show_scenes(Visit& visit) {
  const auto state = visit.site.book().state();
  const Production& production = *state->production;
  ViewData data;
  show_done(visit, data);
  for (const SceneId id : production.scenes.ids()) {
    const Scene& scene = production.scenes[id];
    ViewData& row = data.add("SCENE");
    std::vector<std::string> when;
    if (scene.day.valid())
      when.push_back(short_date(production.days[scene.day].date, date_tongue(visit)));
    if (scene.at) when.push_back(format(*scene.at));
    if (scene.between) when.push_back(format(*scene.between));
    if (scene.light != Light::any) {
      static constexpr const char* kLights[] = {"any", "day", "golden", "dusk", "dark"};
      when.push_back(organiser_words(
          visit, std::string("light.") + kLights[static_cast<std::size_t>(scene.light)]));
    }
    std::int64_t heads = 0;
    for (const CastCall& call : scene.cast) heads += call.people;
    std::int64_t crew = 0;
    for (const CrewCall& call : production.crew_of(id)) crew += call.people;
    row.set("NAME", scene.shown())
        .set("ID", scene.id)
        .set("PLACE",
             scene.place.valid() ? production.places[scene.place].name.empty()
                                       ? production.places[scene.place].id
                                       : production.places[scene.place].name
                                 : organiser_words(visit, "scene_form.base"))
        .set("MINUTES",
             organiser_words(visit,
                             "scenes.minutes",
                             {{"set", std::int64_t{scene.set_minutes.count()}},
                              {"shoot", std::int64_t{scene.shoot_minutes.count()}}}))
        .set("PEOPLE", organiser_words(visit, "scenes.people", {{"cast", heads}, {"crew", crew}}))
        .set("CSRF", visit.csrf)
        .set("WHEN", when.empty() ? organiser_words(visit, "scenes.any_time") : listed(when));
    if (scene.optional) row.show("OPTIONAL");
  }
  if (production.scenes.empty()) data.show("NO_SCENES");
  return visit.site.show(visit, "organiser/scenes", organiser_words(visit, "scenes.title"), data);
}

struct SceneShown {
  std::string id;  ///< empty: a new one
  Revision seen = 0;
  std::vector<std::string> others;
  const std::vector<Collision>* collisions = nullptr;
  int status = 200;
};

HttpAnswer show_scene_form(Visit& visit, const EntryForm& form, const SceneShown& shown) {
  ViewData data;
  form.show_problems(data, shown.others);
  data.set("CSRF", visit.csrf).set("SEEN", shown.seen).set("ID", shown.id);
  data.show(shown.id.empty() ? "NEW" : "OLD");
  data.set_markup("FIELDS", form.draw(visit));  // drawn by a template, which escaped every value
  const std::string title =
      shown.id.empty() ? organiser_words(visit, "scene_form.new")
                       : organiser_words(visit, "scene_form.title", {{"name", form.value("name")}});
  data.set("HEADING", title);
  if (shown.collisions != nullptr) add_collisions(visit, data, *shown.collisions);
  return visit.site.show(
      visit,
      "organiser/scene_form",
      shown.status == 200 ? title : organiser_words(visit, "form.error_title", {{"title", title}}),
      data,
      shown.status);
}

Change change_between(Visit& visit,
                      const BookState& seen,
                      const Document& after,
                      const std::string& why) {
  Change change;
  change.edits.push_back({"production", difference(*seen.production_document, after)});
  change.who = "organiser";
  change.why = why;
  change.at = visit.now;
  change.seen = seen.revision;
  return with_likes(seen, std::move(change));  // a job that is gone is nobody's wish
}

HttpAnswer edit_scene(Visit& visit) {
  const auto state = visit.site.book().state();
  const Document& document = *state->production_document;
  const auto place = entry_place(document, "scenes", visit.path.front());
  if (!place) return visit.site.show_error(visit, 404);
  const EntryForm form =
      scene_form(visit, *state->production, document, scene_at(document, *place));
  return show_scene_form(visit, form, {visit.path.front(), state->revision, {}, nullptr, 200});
}

/// The newest scene with what was typed over it, and both sides told.
HttpAnswer show_scene_collision(Visit& visit,
                                const EntryForm& typed,
                                SceneShown shown,
                                const Refusal& refusal) {
  const auto newest = visit.site.book().state();
  const Document& document = *newest->production_document;
  const auto place = entry_place(document, "scenes", shown.id);
  if (!place) return show_refusal(visit, refusal, "/organise/scenes");
  EntryForm form = scene_form(visit, *newest->production, document, scene_at(document, *place));
  form.take_changes_of(typed);
  shown.seen = newest->revision;
  shown.collisions = &refusal.collisions;
  shown.status = 409;
  return show_scene_form(visit, form, shown);
}

HttpAnswer keep_scene(Visit& visit) {
  const auto state = state_seen(visit);
  const Document& before = *state->production_document;
  const auto place = entry_place(before, "scenes", visit.path.front());
  if (!place) return visit.site.show_error(visit, 404);
  EntryForm form = scene_form(visit, *state->production, before, scene_at(before, *place));
  form.read(visit.request);
  SceneShown shown{visit.path.front(), state->revision, {}, nullptr, 422};
  Document after = before;
  Document& mine = after["scenes"][*place];
  const bool right = form.apply(visit, mine);
  if (!apply_crew(visit, form, mine) || !right) return show_scene_form(visit, form, shown);
  Change change = change_between(visit, *state, after, "changed a scene");
  if (change.edits.front().patch.empty()) return HttpAnswer::go_to("/organise/scenes");
  const auto result = visit.site.book().change(std::move(change));
  if (const auto* refusal = std::get_if<Refusal>(&result)) {
    if (!refusal->collisions.empty()) return show_scene_collision(visit, form, shown, *refusal);
    shown.others = form.tell(refusal->faults, "scenes[" + std::to_string(*place) + "].");
    return show_scene_form(visit, form, shown);
  }
  return after_change(visit, result, "/organise/scenes");
}

HttpAnswer new_scene(Visit& visit) {
  const auto state = visit.site.book().state();
  const EntryForm form =
      scene_form(visit, *state->production, *state->production_document, Document::object());
  return show_scene_form(visit, form, {"", state->revision, {}, nullptr, 200});
}

HttpAnswer keep_new_scene(Visit& visit) {
  const auto state = state_seen(visit);
  const Document& before = *state->production_document;
  EntryForm form = scene_form(visit, *state->production, before, Document::object());
  form.read(visit.request);
  SceneShown shown{"", state->revision, {}, nullptr, 422};
  Document mine = Document::object();
  // the id comes from the state that the form was made from: the same form sent twice makes the
  // same scene, and the book sees that both say the same
  mine["id"] = new_entry_id(before, "scenes", form.value("name"));
  const bool right = form.apply(visit, mine);
  if (!apply_crew(visit, form, mine) || !right) return show_scene_form(visit, form, shown);
  Document after = before;
  if (!after.contains("scenes")) after["scenes"] = Document::array();
  const std::size_t place = after["scenes"].size();
  after["scenes"].push_back(mine);
  const auto result =
      visit.site.book().change(change_between(visit, *state, after, "added a scene"));
  if (const auto* refusal = std::get_if<Refusal>(&result)) {
    if (!refusal->collisions.empty()) return show_refusal(visit, *refusal, "/organise/scenes");
    shown.others = form.tell(refusal->faults, "scenes[" + std::to_string(place) + "].");
    return show_scene_form(visit, form, shown);
  }
  return after_change(visit, result, "/organise/scenes");
}

HttpAnswer remove_scene(Visit& visit) {
  const auto state = state_seen(visit);
  Document after = *state->production_document;
  const auto place = entry_place(after, "scenes", visit.path.front());
  if (!place) return visit.site.show_error(visit, 404);
  after["scenes"].erase(*place);
  return after_change(
      visit,
      visit.site.book().change(change_between(visit, *state, after, "took out a scene")),
      "/organise/scenes");
}

}  // namespace

void add_scene_pages(Site& site) {
  site.add({"GET", "/organise/scenes", Access::organiser, show_scenes});
  site.add({"GET", "/organise/new-scene", Access::organiser, new_scene});
  site.add({"POST", "/organise/new-scene", Access::organiser, keep_new_scene});
  site.add({"GET", "/organise/scenes/:id/change", Access::organiser, edit_scene});
  site.add({"POST", "/organise/scenes/:id/change", Access::organiser, keep_scene});
  site.add({"POST", "/organise/scenes/:id/remove", Access::organiser, remove_scene});
}

}  // namespace gp
