#pragma once

#include "web/organiser/common.h"

namespace gp {

void add_sheet_pages(Site& site);

}  // namespace gp
