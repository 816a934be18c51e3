#include "web/organiser/common.h"

namespace gp {

void add_organiser_pages(Site& site) {
  add_overview_pages(site);
  add_people_pages(site);
  add_person_forms(site);
  add_person_pages(site);
  add_needs_pages(site);
  add_plan_pages(site);
  add_scene_pages(site);
  add_history_pages(site);
  add_settings_pages(site);
  add_export_pages(site);
  add_door_pages(site);
}

}  // namespace gp
