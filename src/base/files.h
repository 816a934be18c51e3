#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace gp {

/// The edge of the world where files are: the disk here, in tests one in memory. Everything that
/// can go wrong comes as a WorldError of one line: what was tried, what to do about it, the cause
/// last.
class Files {
 public:
  Files() = default;
  Files(const Files&) = delete;
  Files& operator=(const Files&) = delete;
  virtual ~Files() = default;

  /// The file's bytes, whole; at most `most` of them and one more, so that the caller sees that the
  /// file is longer and memory stays bounded. `-` reads standard input.
  /// \throws WorldError  it is not there, may not be read, is a folder, or the disk failed
  virtual std::string read(const std::string& path, std::size_t most) = 0;

  /// Writes the file whole or not at all: a reader sees the old bytes or the new ones, never a
  /// part.
  /// `-` writes standard output (which cannot be taken back).
  /// \throws WorldError  the folder is missing or may not be written, the disk is full …; what
  /// stood
  ///                     there before stands there still
  virtual void write(const std::string& path, std::string_view bytes) = 0;

  /// Makes the folder and those above it, where they are missing.
  /// \throws WorldError  a file is in the way, or it may not be made
  virtual void make_folder(const std::string& path) = 0;
};

/// The real disk. A file is written under another name beside its place, brought to the disk
/// (fsync) and renamed over it; a link is followed first, and a device or pipe (/dev/full,
/// /dev/stdout) is written directly. Threads: none of its own; several may use it for different
/// files.
class Disk final : public Files {
 public:
  std::string read(const std::string& path, std::size_t most) override;
  void write(const std::string& path, std::string_view bytes) override;
  void make_folder(const std::string& path) override;
};

/// What to call a path in a message: `-` is standard input or output.
std::string input_name(const std::string& path);

}  // namespace gp
