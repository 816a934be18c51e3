// libFuzzer's entry for base/json: any bytes are read or told; what is read is written back as the
// same values, and every fault has a place inside the file.

#include "base/fault.h"
#include "base/json.h"
#include "base/json_writer.h"

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

namespace {

void require(bool holds) {
  if (!holds) std::abort();
}

void write(gp::JsonWriter& writer, const gp::Json& json) {
  switch (json.kind()) {
    case gp::JsonKind::broken:
      std::abort();
    case gp::JsonKind::null:
      writer.null();
      break;
    case gp::JsonKind::boolean:
      writer.boolean(json.boolean());
      break;
    case gp::JsonKind::number:
      writer.number(json.number());
      break;
    case gp::JsonKind::text:
      writer.text(json.text());
      break;
    case gp::JsonKind::list:
      writer.begin_list();
      for (const gp::Json& item : json.items()) write(writer, item);
      writer.end_list();
      break;
    case gp::JsonKind::object:
      writer.begin_object(gp::JsonLayout::compact);
      for (const gp::JsonMember& member : json.members()) {
        writer.key(member.key);
        write(writer, member.value);
      }
      writer.end_object();
      break;
  }
}

std::string written(const gp::Json& json) {
  gp::JsonWriter writer;
  write(writer, json);
  return writer.finish();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const gp::JsonRead read = gp::read_json(text);
  for (const gp::Fault& fault : read.faults) {
    require(!fault.found.empty() && !fault.expected.empty() && fault.line >= 1);
    require(!gp::render(fault, "f", text).empty());
  }
  if (!read.faults.empty()) return 0;
  require(read.root.has_value());
  const std::string once = written(*read.root);
  const gp::JsonRead again = gp::read_json(once);
  require(again.faults.empty());
  require(written(*again.root) == once);
  return 0;
}
