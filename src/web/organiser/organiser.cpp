#include "web/site.h"

namespace gp {

void add_organiser_pages(Site& /*site*/) {}

}  // namespace gp
