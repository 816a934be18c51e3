#include "web/organiser/zip.h"

#include <array>

namespace gp {
namespace {

std::array<std::uint32_t, 256> crc_table() {
  constexpr std::uint32_t kReflected = 0xEDB88320U;
  std::array<std::uint32_t, 256> table{};
  for (std::uint32_t i = 0; i < table.size(); ++i) {
    std::uint32_t value = i;
    for (int bit = 0; bit < 8; ++bit) value = (value >> 1U) ^ ((value & 1U) != 0 ? kReflected : 0U);
    table[i] = value;
  }
  return table;
}

void put(std::string& out, std::uint32_t value, int bytes) {
  for (int i = 0; i < bytes; ++i) {
    out += static_cast<char>(value & 0xFFU);
    value >>= 8U;
  }
}

/// What the local header and the directory say alike.
void put_common(std::string& out, const ZipFile& file) {
  constexpr std::uint32_t kUtf8Names = 1U << 11U;
  constexpr std::uint32_t kFirstDay = (1U << 5U) | 1U;  // 1980-01-01, the earliest there is
  put(out, 20, 2);                                      // version 2.0 is needed
  put(out, kUtf8Names, 2);
  put(out, 0, 2);  // stored
  put(out, 0, 2);  // 00:00:00
  put(out, kFirstDay, 2);
  put(out, crc32_of(file.bytes), 4);
  put(out, static_cast<std::uint32_t>(file.bytes.size()), 4);
  put(out, static_cast<std::uint32_t>(file.bytes.size()), 4);
  put(out, static_cast<std::uint32_t>(file.name.size()), 2);
  put(out, 0, 2);  // no extra field
}

}  // namespace

std::uint32_t crc32_of(std::string_view bytes) {
  static const std::array<std::uint32_t, 256> kTable = crc_table();
  std::uint32_t crc = 0xFFFFFFFFU;
  for (const char c : bytes) {
    crc = (crc >> 8U) ^ kTable[(crc ^ static_cast<unsigned char>(c)) & 0xFFU];
  }
  return crc ^ 0xFFFFFFFFU;
}

std::string zip_of(const std::vector<ZipFile>& files) {
  std::string out;
  std::string directory;
  for (const ZipFile& file : files) {
    const auto at = static_cast<std::uint32_t>(out.size());
    put(out, 0x04034B50U, 4);
    put_common(out, file);
    out += file.name + file.bytes;
    put(directory, 0x02014B50U, 4);
    put(directory, 20, 2);  // made by version 2.0
    put_common(directory, file);
    put(directory, 0, 2);  // no comment
    put(directory, 0, 2);  // first disk
    put(directory, 0, 2);
    put(directory, 0, 4);
    put(directory, at, 4);
    directory += file.name;
  }
  const auto at = static_cast<std::uint32_t>(out.size());
  const auto count = static_cast<std::uint32_t>(files.size());
  out += directory;
  put(out, 0x06054B50U, 4);
  put(out, 0, 2);
  put(out, 0, 2);
  put(out, count, 2);
  put(out, count, 2);
  put(out, static_cast<std::uint32_t>(directory.size()), 4);
  put(out, at, 4);
  put(out, 0, 2);
  return out;
}

}  // namespace gp
