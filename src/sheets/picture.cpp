#include "sheets/picture.h"

#include "base/errors.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include <hb.h>
#include <png.h>

namespace gp {
namespace {

constexpr int kBands = 5;         ///< scan lines to a row of dots
constexpr int kCurvePieces = 12;  ///< straight pieces to a curve

}  // namespace

/// Takes a glyph's outline from HarfBuzz and keeps it as closed chains of straight pieces, in dots.
class Picture::Outline {
 public:
  Outline(double x, double y, double dots_per_unit) : x_(x), y_(y), unit_(dots_per_unit) {}

  std::vector<std::vector<Point>> chains;

  void move(float x, float y) { chains.push_back({place(x, y)}); }
  void line(float x, float y) { chains.back().push_back(place(x, y)); }
  void cubic(Point one, Point two, Point end) {
    const Point start = chains.back().back();
    for (int i = 1; i <= kCurvePieces; ++i) {
      const double t = static_cast<double>(i) / kCurvePieces;
      const double s = 1 - t;
      chains.back().push_back(
          {s * s * s * start.x + 3 * s * s * t * one.x + 3 * s * t * t * two.x + t * t * t * end.x,
           s * s * s * start.y + 3 * s * s * t * one.y + 3 * s * t * t * two.y +
               t * t * t * end.y});
    }
  }
  /// A parabola is a cubic whose inner points lie two thirds of the way to its one.
  void quadratic(Point middle, Point end) {
    const Point start = chains.back().back();
    const auto toward = [&](Point from) {
      return Point{from.x + (middle.x - from.x) * 2 / 3, from.y + (middle.y - from.y) * 2 / 3};
    };
    cubic(toward(start), toward(end), end);
  }
  [[nodiscard]] Point place(float x, float y) const {
    return {x_ + static_cast<double>(x) * unit_, y_ - static_cast<double>(y) * unit_};
  }

  static hb_draw_funcs_t* functions() {
    static hb_draw_funcs_t* const all = [] {
      hb_draw_funcs_t* made = hb_draw_funcs_create();
      hb_draw_funcs_set_move_to_func(
          made,
          [](hb_draw_funcs_t*, void* to, hb_draw_state_t*, float x, float y, void*) {
            static_cast<Outline*>(to)->move(x, y);
          },
          nullptr,
          nullptr);
      hb_draw_funcs_set_line_to_func(
          made,
          [](hb_draw_funcs_t*, void* to, hb_draw_state_t*, float x, float y, void*) {
            static_cast<Outline*>(to)->line(x, y);
          },
          nullptr,
          nullptr);
      hb_draw_funcs_set_quadratic_to_func(
          made,
          [](hb_draw_funcs_t*,
             void* to,
             hb_draw_state_t*,
             float x1,
             float y1,
             float x,
             float y,
             void*) {
            auto* outline = static_cast<Outline*>(to);
            outline->quadratic(outline->place(x1, y1), outline->place(x, y));
          },
          nullptr,
          nullptr);
      hb_draw_funcs_set_cubic_to_func(
          made,
          [](hb_draw_funcs_t*,
             void* to,
             hb_draw_state_t*,
             float x1,
             float y1,
             float x2,
             float y2,
             float x,
             float y,
             void*) {
            auto* outline = static_cast<Outline*>(to);
            outline->cubic(outline->place(x1, y1), outline->place(x2, y2), outline->place(x, y));
          },
          nullptr,
          nullptr);
      hb_draw_funcs_make_immutable(made);
      return made;
    }();
    return all;
  }

 private:
  double x_, y_, unit_;
};

Picture::Picture(double width, double height, double scale)
    : width_(static_cast<std::size_t>(std::lround(width * scale))),
      height_(static_cast<std::size_t>(std::lround(height * scale))),
      scale_(scale),
      grey_(width_ * height_, 1.0F) {}

void Picture::cover(std::vector<double>& covered, double from, double until) const {
  from = std::max(from, 0.0);
  until = std::min(until, static_cast<double>(width_));
  if (until <= from) return;
  const auto first = static_cast<std::size_t>(from);
  const auto last = std::min(static_cast<std::size_t>(until), width_ - 1);
  for (std::size_t column = first; column <= last; ++column) {
    const double left = std::max(from, static_cast<double>(column));
    const double right = std::min(until, static_cast<double>(column + 1));
    covered[column] += std::max(0.0, right - left) / kBands;
  }
}

void Picture::fill(double x, double y, double width, double height, double grey) {
  const double left = x * scale_;
  const double top = y * scale_;
  const double right = left + width * scale_;
  const double bottom = top + height * scale_;
  fill({{{left, top}, {right, top}, {right, bottom}, {left, bottom}}}, grey);
}

/// Scan lines and the rule of the winding number not being nought, as TrueType wants it.
void Picture::fill(const std::vector<std::vector<Point>>& outlines, double grey) {
  double top = static_cast<double>(height_);
  double bottom = 0;
  for (const auto& chain : outlines) {
    for (const Point& point : chain) {
      top = std::min(top, point.y);
      bottom = std::max(bottom, point.y);
    }
  }
  const auto first = static_cast<std::size_t>(std::max(0.0, std::floor(top)));
  const auto end = std::min(height_, static_cast<std::size_t>(std::max(0.0, std::ceil(bottom))));
  struct Crossing {
    double x;
    int turn;
  };
  std::vector<Crossing> crossings;
  std::vector<double> covered(width_);
  for (std::size_t row = first; row < end; ++row) {
    std::fill(covered.begin(), covered.end(), 0.0);
    for (int band = 0; band < kBands; ++band) {
      const double y = static_cast<double>(row) + (band + 0.5) / kBands;
      crossings.clear();
      for (const auto& chain : outlines) {
        for (std::size_t i = 0; i < chain.size(); ++i) {
          const Point& a = chain[i];
          const Point& b = chain[(i + 1) % chain.size()];
          if ((a.y <= y) == (b.y <= y)) continue;
          crossings.push_back({a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x), a.y <= y ? 1 : -1});
        }
      }
      std::sort(crossings.begin(), crossings.end(), [](const Crossing& a, const Crossing& b) {
        return a.x < b.x;
      });
      int winding = 0;
      for (std::size_t i = 0; i + 1 < crossings.size(); ++i) {
        winding += crossings[i].turn;
        if (winding != 0) cover(covered, crossings[i].x, crossings[i + 1].x);
      }
    }
    // all scan lines of the row at once: one after the other they would never reach full black
    for (std::size_t column = 0; column < width_; ++column) {
      const double part = std::min(covered[column], 1.0);
      float& dot = grey_[row * width_ + column];
      dot = static_cast<float>(static_cast<double>(dot) * (1 - part) + grey * part);
    }
  }
}

void Picture::text(const SetLine& line, double x, double y, double size) {
  double at = x;
  for (const GlyphRun& run : line->runs) {
    int x_scale = 0;
    int y_scale = 0;
    hb_font_get_scale(run.face->font(), &x_scale, &y_scale);
    const double unit = size * scale_ / y_scale;
    for (const Glyph& glyph : run.glyphs) {
      if (glyph.unseen_width == 0) {
        Outline outline((at + glyph.dx * size) * scale_, (y - glyph.dy * size) * scale_, unit);
        hb_font_get_glyph_shape(run.face->font(), glyph.id, Outline::functions(), &outline);
        fill(outline.chains, run.grey);
      }
      at += glyph.advance * size;
    }
  }
}

std::string Picture::png() const {
  std::vector<std::uint8_t> dots(grey_.size());
  for (std::size_t i = 0; i < dots.size(); ++i) {
    dots[i] = static_cast<std::uint8_t>(std::lround(std::clamp(grey_[i], 0.0F, 1.0F) * 255.0F));
  }
  png_image image{};
  image.version = PNG_IMAGE_VERSION;
  image.width = static_cast<png_uint_32>(width_);
  image.height = static_cast<png_uint_32>(height_);
  image.format = PNG_FORMAT_GRAY;
  png_alloc_size_t size = 0;
  if (png_image_write_to_memory(&image, nullptr, &size, 0, dots.data(), 0, nullptr) == 0) {
    throw InternalError(std::string("a picture could not be written: ") + image.message);
  }
  std::string bytes(size, '\0');
  if (png_image_write_to_memory(&image, bytes.data(), &size, 0, dots.data(), 0, nullptr) == 0) {
    throw InternalError(std::string("a picture could not be written: ") + image.message);
  }
  bytes.resize(size);
  return bytes;
}

}  // namespace gp
