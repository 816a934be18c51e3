#include "base/json_writer.h"
#include "explain/cast/cast_film.h"
#include "model/sizes.h"
#include "time/clock.h"

namespace gp {
namespace {

std::string names_of(const Production& production, const std::vector<PersonId>& people) {
  std::string text;
  for (const PersonId person : people) {
    text += (text.empty() ? "" : ", ") + production.people[person].shown();
  }
  return text.empty() ? "nobody" : text;
}

std::string place_name(const Production& production, RoleId role, const std::string& job) {
  return role.valid() ? production.roles[role].shown() : job;
}

std::string clock_of(const Production& production, DayId day, Minute at) {
  return format(CalendarDay(production.days[day].date, production.zone).shown(at));
}

std::string scenes_text(int number) {
  return std::to_string(number) + (number == 1 ? " scene" : " scenes");
}

std::string empty_text(const Production& production, const EmptyPlace& empty) {
  std::string text = "  " + production.scenes[empty.scene].shown() + ": " +
                     place_name(production, empty.role, empty.job) + " is missing " +
                     (empty.missing == 1 ? "1 person" : std::to_string(empty.missing) + " people") +
                     ". " + empty.why + ".\n";
  if (empty.nearest.valid()) {
    text +=
        "    Nearest: " + production.people[empty.nearest].shown() + ", " + empty.change + ".\n";
  } else {
    text += "    Nobody would do if only one thing were otherwise.\n";
  }
  return text;
}

}  // namespace

std::string casting_as_text(const Production& production, const FilmCasting& casting) {
  std::string text = "Parts\n";
  for (const PartChoice& part : casting.parts) {
    text += "  " + production.roles[part.role].shown() + ": " +
            (part.person.valid() ? production.people[part.person].shown() : "nobody is left") +
            ", " + scenes_text(static_cast<int>(part.scenes.size())) +
            (part.given ? ", as the file says" : "") + "\n";
  }
  if (casting.parts.empty()) text += "  There are none.\n";
  text += "\nScenes\n";
  for (const SceneChoice& scene : casting.scenes) {
    text += "  " + production.scenes[scene.scene].shown();
    if (scene.day.valid()) {
      text += ", as if shot on " + format(production.days[scene.day].date) + " at " +
              clock_of(production, scene.day, scene.shot);
    }
    text += "\n";
    for (const PlaceChoice& place : scene.places) {
      if (place.part) continue;
      text += "    " + place_name(production, place.role, place.job) + ": " +
              names_of(production, place.people) + "\n";
    }
  }
  text += "\nPeople\n";
  for (const CastLoad& load : casting.loads) {
    text += "  " + production.people[load.person].shown() + ": " + scenes_text(load.scenes);
    if (load.liked > 0) text += ", " + std::to_string(load.liked) + " in what they like";
    if (load.with_friends > 0) {
      text += ", " + std::to_string(load.with_friends) + " with somebody they like";
    }
    text += "\n";
  }
  if (!casting.empty.empty()) {
    text += "\nNobody is left for\n";
    for (const EmptyPlace& empty : casting.empty) text += empty_text(production, empty);
  }
  if (!casting.sizes_not_known.empty()) {
    text += "\nThought to fit, for the size is not written down\n";
    for (const SizeNotKnown& it : casting.sizes_not_known) {
      std::string names;
      for (const std::string& name : it.sizes) names += (names.empty() ? "" : " and ") + name;
      text += "  " + production.people[it.person].shown() + ": " + names + " (" +
              production.items[it.item].shown() + ": " + ranges_of(production.items[it.item]) +
              ")\n";
    }
  }
  if (!casting.collisions.empty()) {
    text += "\nFixed in the file, but cannot be kept\n";
    for (const LockCollision& it : casting.collisions) {
      text += "  " + it.lock + ": " + it.with + (it.with.ends_with('.') ? "\n" : ".\n");
    }
  }
  return text;
}

std::string write_casting(const Production& production, const FilmCasting& casting) {
  JsonWriter out;
  const auto ids = [&](const std::vector<PersonId>& people) {
    out.begin_list(JsonLayout::compact);
    for (const PersonId person : people) out.text(production.people[person].id);
    out.end_list();
  };
  out.begin_object();
  out.key("title").text(production.title);
  out.key("parts").begin_list();
  for (const PartChoice& part : casting.parts) {
    out.begin_object(JsonLayout::compact);
    out.key("role").text(production.roles[part.role].id);
    out.key("person");
    if (part.person.valid()) {
      out.text(production.people[part.person].id);
    } else {
      out.null();
    }
    out.key("given").boolean(part.given);
    out.key("scenes").begin_list(JsonLayout::compact);
    for (const SceneId scene : part.scenes) out.text(production.scenes[scene].id);
    out.end_list();
    out.end_object();
  }
  out.end_list();
  out.key("scenes").begin_list();
  for (const SceneChoice& scene : casting.scenes) {
    out.begin_object(JsonLayout::compact);
    out.key("scene").text(production.scenes[scene.scene].id);
    if (scene.day.valid()) {
      out.key("day").text(format(production.days[scene.day].date));
      out.key("shoot_at").text(clock_of(production, scene.day, scene.shot));
    }
    out.key("places").begin_list();
    for (const PlaceChoice& place : scene.places) {
      out.begin_object();
      if (place.role.valid()) {
        out.key("role").text(production.roles[place.role].id);
      } else {
        out.key("job").text(place.job);
      }
      out.key("wanted").number(std::int64_t{place.wanted});
      out.key("people");
      ids(place.people);
      out.end_object();
    }
    out.end_list();
    out.end_object();
  }
  out.end_list();
  out.key("people").begin_list();
  for (const CastLoad& load : casting.loads) {
    out.begin_object(JsonLayout::compact);
    out.key("person").text(production.people[load.person].id);
    out.key("scenes").number(std::int64_t{load.scenes});
    if (!production.people[load.person].likes.empty()) {
      out.key("liked").number(std::int64_t{load.liked});
      out.key("with_friends").number(std::int64_t{load.with_friends});
    }
    out.end_object();
  }
  out.end_list();
  out.key("empty").begin_list();
  for (const EmptyPlace& empty : casting.empty) {
    out.begin_object(JsonLayout::compact);
    out.key("scene").text(production.scenes[empty.scene].id);
    if (empty.role.valid()) {
      out.key("role").text(production.roles[empty.role].id);
    } else {
      out.key("job").text(empty.job);
    }
    out.key("missing").number(std::int64_t{empty.missing});
    out.key("why").text(empty.why);
    if (empty.nearest.valid()) {
      out.key("nearest").text(production.people[empty.nearest].id);
      out.key("change").text(empty.change);
    }
    out.end_object();
  }
  out.end_list();
  if (!casting.sizes_not_known.empty()) {
    out.key("sizes_not_known").begin_list();
    for (const SizeNotKnown& it : casting.sizes_not_known) {
      out.begin_object(JsonLayout::compact);
      out.key("person").text(production.people[it.person].id);
      out.key("item").text(production.items[it.item].id);
      out.key("sizes").texts(it.sizes);
      out.end_object();
    }
    out.end_list();
  }
  out.key("collisions").begin_list();
  for (const LockCollision& it : casting.collisions) {
    out.begin_object(JsonLayout::compact);
    out.key("fixed").text(it.lock);
    out.key("with").text(it.with);
    out.end_object();
  }
  out.end_list();
  out.key("points").number(casting.points);
  out.end_object();
  return out.finish();
}

}  // namespace gp
