// libFuzzer's entry for lists of people and shots: any bytes are read or told; what comes in is a
// right production, and the table it is exported to reads back as the same people.

#include "intake/lists.h"
#include "intake/people_merge.h"
#include "model/read_production.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <variant>

namespace {

void require(bool holds) {
  if (!holds) std::abort();
}

gp::Production kettle() {
  const auto read = gp::read_production(
      R"({"greasepaint": 1, "title": "Kettle", "days": [{"date": "2027-04-17"}]})");
  return std::get<gp::Production>(read);
}

/// The production as its own file reads it. People who have just come in may lack a skill, so a
/// part nobody can play yet is no fault.
void require_right(const gp::Production& production) {
  const auto read =
      gp::read_production(gp::write_production(production), gp::PeopleListed::still_coming);
  require(std::holds_alternative<gp::Production>(read));
  require(std::get<gp::Production>(read) == production);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes(reinterpret_cast<const char*>(data), size);
  const gp::Production empty = kettle();

  const gp::PeopleList list = gp::read_people_list(bytes, "list", {});
  gp::MergeWishes add;
  add.same = gp::IfThere::add;
  const gp::PeopleMerge merged = gp::merge_people(empty, list.people.people, add);
  require_right(merged.production);

  const gp::PeopleList again = gp::read_people_list(gp::people_csv(merged.production), "list", {});
  if (!merged.production.people.empty()) {
    require(again.people.bad.empty() && again.people.left_out.empty());
    require(gp::merge_people(empty, again.people.people, add).production.people ==
            merged.production.people);
  }

  const gp::ShotsList shots = gp::read_shots_list(bytes, "list", {});
  require_right(gp::merge_shots(empty, shots.read.shots, true).production);
  return 0;
}
