#include "explain/why/why.h"

namespace gp {

std::string name_of(WhyFact fact) {
  switch (fact) {
    case WhyFact::next_step:
      return "next-step";
    case WhyFact::first_scene:
      return "first-scene";
    case WhyFact::next_look:
      return "next-look";
    case WhyFact::first_staffed:
      return "first-staffed";
    case WhyFact::own_time:
      return "own-time";
    case WhyFact::station_closed:
      return "station-closed";
    case WhyFact::place_taken:
      return "place-taken";
    case WhyFact::helper_busy:
      return "helper-busy";
    case WhyFact::nobody_able:
      return "nobody-able";
    case WhyFact::item_out:
      return "item-out";
    case WhyFact::stays_longer:
      return "stays-longer";
    case WhyFact::clock_change:
      return "clock-change";
    case WhyFact::meal_span:
      return "meal-span";
    case WhyFact::meal_seats:
      return "meal-seats";
    case WhyFact::meal_people:
      return "meal-people";
    case WhyFact::fixed_time:
      return "fixed-time";
    case WhyFact::hours_wanted:
      return "hours-wanted";
    case WhyFact::first_shot:
      return "first-shot";
    case WhyFact::wrap_by:
      return "wrap-by";
    case WhyFact::light:
      return "light";
    case WhyFact::unit_busy:
      return "unit-busy";
    case WhyFact::scene_order:
      return "scene-order";
    case WhyFact::not_ready:
      return "not-ready";
    case WhyFact::look_holds:
      return "look-holds";
    case WhyFact::not_free:
      return "not-free";
  }
  return "";
}

}  // namespace gp
