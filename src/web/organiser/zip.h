#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace gp {

struct ZipFile {
  std::string name, bytes;
};

/// Files in one archive, stored as they are (PDF is packed already), without a date: same files,
/// same bytes. Source: PKWARE's .ZIP File Format Specification (APPNOTE), sections 4.3.7 to 4.3.16;
/// names are UTF-8 (bit 11 of the flags). At most 65,535 files and 4 GiB.
std::string zip_of(const std::vector<ZipFile>& files);

/// CRC-32 as ZIP has it: polynomial 0x04C11DB7, reflected, ones before and after (ISO 3309).
std::uint32_t crc32_of(std::string_view bytes);

}  // namespace gp
