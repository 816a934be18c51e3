#pragma once

#include "sheets/sheets.h"
#include "web/organiser/common.h"

#include <memory>

namespace gp {

/// The printed sheets of a plan. The last plan's are kept, so that a page and its downloads make
/// them once. \throws WorldError  no fonts
std::shared_ptr<const Sheets> sheets_of(Site& site, const OrganiserPlan& plan);

void add_sheet_pages(Site& site);

}  // namespace gp
