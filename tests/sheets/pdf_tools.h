#pragma once

#include "support/temporary_folder.h"
#include "text/clean.h"

#include <array>
#include <cstdint>
#include <cstdio>
#include <fstream>
#include <regex>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include <sys/wait.h>

// What other people's programs say of our PDFs: poppler (pdftotext, pdftoppm, pdffonts, pdfinfo)
// and qpdf. None of it shares code with us.

namespace gp::test {

struct ToolResult {
  int exit_code = -1;
  std::string output;  ///< standard output and error
};

inline ToolResult run_tool(const std::string& command) {
  ToolResult result;
  FILE* pipe = ::popen((command + " 2>&1").c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error("cannot run " + command);
  std::array<char, 65536> buffer{};
  for (std::size_t got = 0; (got = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
    result.output.append(buffer.data(), got);
  }
  const int status = ::pclose(pipe);
  result.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  if (result.exit_code == 127) throw std::runtime_error("not installed: " + command);
  return result;
}

/// A word as pdftotext finds it; points from the upper left corner of its page.
struct PrintedWord {
  int page = 0;  ///< from 1
  double left = 0, top = 0, right = 0, bottom = 0;
  std::string text;
};

/// A grey picture of a page; 0 is white, 1 is ink.
struct Picture {
  std::size_t width = 0, height = 0;
  double dots = 1;  ///< to a point
  std::vector<double> ink;

  /// Ink in a rectangle given in points from the upper left corner; in square points.
  [[nodiscard]] double in(double left, double top, double right, double bottom) const {
    double sum = 0;
    const auto clip = [](double value, std::size_t most) {
      return value <= 0 ? std::size_t{0} : std::min(most, static_cast<std::size_t>(value));
    };
    for (std::size_t y = clip(top * dots, height); y < clip(bottom * dots, height); ++y) {
      for (std::size_t x = clip(left * dots, width); x < clip(right * dots, width); ++x) {
        sum += ink[y * width + x];
      }
    }
    return sum / (dots * dots);
  }
};

/// A PDF on disk for as long as it is looked at.
class PrintedPdf {
 public:
  explicit PrintedPdf(const std::string& bytes) : path_(folder_.file("sheet.pdf")) {
    std::ofstream(path_, std::ios::binary) << bytes;
  }

  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] ToolResult check() const { return run_tool("qpdf --check " + path_); }

  /// The text in reading order; marks of direction left out, letters composed, no-break spaces as
  /// spaces, every row of white one space.
  [[nodiscard]] std::string text(const std::string& options = "") const {
    return plain(run_tool("pdftotext " + options + " " + path_ + " -").output);
  }

  [[nodiscard]] std::string info(const std::string& name) const {
    std::istringstream lines(run_tool("pdfinfo " + path_).output);
    for (std::string line; std::getline(lines, line);) {
      if (line.starts_with(name + ":")) {
        const std::size_t from = line.find_first_not_of(' ', name.size() + 1);
        return from == std::string::npos ? "" : line.substr(from);
      }
    }
    return "";
  }
  [[nodiscard]] int pages() const { return std::stoi(info("Pages")); }

  [[nodiscard]] std::vector<PrintedWord> words() const {
    static const std::regex word_said(
        R"re(<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">(.*)</word>)re");
    std::vector<PrintedWord> found;
    int page = 0;
    std::istringstream lines(run_tool("pdftotext -bbox " + path_ + " -").output);
    for (std::string line; std::getline(lines, line);) {
      if (line.find("<page ") != std::string::npos) ++page;
      std::smatch match;
      if (!std::regex_search(line, match, word_said)) continue;
      found.push_back({page,
                       std::stod(match[1]),
                       std::stod(match[2]),
                       std::stod(match[3]),
                       std::stod(match[4]),
                       match[5]});
    }
    return found;
  }

  /// Every size that text is set in, read from the page's own operators.
  [[nodiscard]] std::vector<double> sizes() const {
    const std::string open =
        run_tool("qpdf --qdf --object-streams=disable --stream-data=uncompress " + path_ + " -")
            .output;
    static const std::regex size_said(R"(/F[0-9]+ ([0-9.]+) Tf)");
    std::vector<double> found;
    for (auto at = std::sregex_iterator(open.begin(), open.end(), size_said);
         at != std::sregex_iterator();
         ++at) {
      found.push_back(std::stod((*at)[1]));
    }
    return found;
  }
  /// Every way text is turned or stretched, other than upright and whole.
  [[nodiscard]] std::size_t turned_texts() const {
    const std::string open =
        run_tool("qpdf --qdf --object-streams=disable --stream-data=uncompress " + path_ + " -")
            .output;
    static const std::regex any_matrix(
        R"(([-0-9.]+ [-0-9.]+ [-0-9.]+ [-0-9.]+) [-0-9.]+ [-0-9.]+ Tm)");
    std::size_t turned = 0;
    for (auto at = std::sregex_iterator(open.begin(), open.end(), any_matrix);
         at != std::sregex_iterator();
         ++at) {
      if ((*at)[1] != "1 0 0 1") ++turned;
    }
    return turned;
  }

  [[nodiscard]] Picture picture(int page = 1, int dpi = 288) const {
    const std::string base = folder_.file("page");
    run_tool("pdftoppm -gray -singlefile -f " + std::to_string(page) + " -r " +
             std::to_string(dpi) + " " + path_ + " " + base);
    std::ifstream file(base + ".pgm", std::ios::binary);
    std::string magic;
    Picture picture;
    int most = 0;
    file >> magic >> picture.width >> picture.height >> most;
    if (magic != "P5" || most != 255) throw std::runtime_error("pdftoppm gave no picture");
    file.get();
    std::string bytes(picture.width * picture.height, '\0');
    file.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    picture.dots = dpi / 72.0;
    picture.ink.reserve(bytes.size());
    for (const char byte : bytes) {
      picture.ink.push_back(1 - static_cast<unsigned char>(byte) / 255.0);
    }
    return picture;
  }

  static std::string plain(const std::string& utf8) {
    std::u16string out;
    for (const char16_t unit : gp::clean(utf8)) {
      if (unit == 0x200E || unit == 0x200F) continue;
      if (unit == u' ' || unit == 0xA0) {
        if (out.empty() || out.back() != u' ') out += u' ';
      } else {
        out += unit;
      }
    }
    return gp::to_utf8(out);
  }

 private:
  TemporaryFolder folder_;
  std::string path_;
};

}  // namespace gp::test
