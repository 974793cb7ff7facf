#include "report/html/scatter_chart.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

#include "report/html/axis.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

constexpr double kWidth = 520.0;
constexpr double kHeight = 280.0;
constexpr double kLeft = 52.0;
constexpr double kRight = 508.0;
constexpr double kTop = 28.0;
constexpr double kBottom = 236.0;

class Drawing {
 public:
  Drawing(const ScatterChart& chart, fmt::memory_buffer& out)
      : chart_(chart),
        out_(std::back_inserter(out)),
        x_(axis(&PictureScatter::Cell::x, chart.x_unit, 6)),
        y_(axis(&PictureScatter::Cell::y, chart.y_unit, 5)) {}

  void draw() {
    fmt::format_to(out_,
                   "<svg class=\"chart\" viewBox=\"0 0 {0:.0f} {1:.0f}\" "
                   "role=\"img\" aria-labelledby=\"{2}-t {2}-d\">"
                   "<title id=\"{2}-t\">{3}</title><desc id=\"{2}-d\">{4}"
                   "</desc>",
                   kWidth, kHeight, chart_.id, html(chart_.title),
                   html(chart_.description));
    for (const double tick : y_.ticks) {
      fmt::format_to(out_,
                     "<path class=\"grid\" d=\"M{:.0f} {:.1f}H{:.0f}\"/>"
                     "<text class=\"end\" x=\"{:.0f}\" y=\"{:.1f}\">{}"
                     "</text>",
                     kLeft, y(tick), kRight, kLeft - 5, y(tick) + 4.0,
                     y_.label(tick));
    }
    for (const double tick : x_.ticks) {
      fmt::format_to(out_,
                     "<path class=\"grid\" d=\"M{0:.1f} {1:.0f}V{2:.0f}\"/>"
                     "<text class=\"middle\" x=\"{0:.1f}\" y=\"{3:.0f}\">"
                     "{4}</text>",
                     x(tick), kTop, kBottom, kBottom + 17.0, x_.label(tick));
    }
    fmt::format_to(out_,
                   "<text class=\"end\" x=\"{:.0f}\" y=\"{:.0f}\">{}"
                   "</text><text x=\"4\" y=\"14\">{}</text>",
                   kRight, kBottom + 36.0, html(chart_.x_title),
                   html(chart_.y_title));
    cells();
    line();
    fmt::format_to(out_, "</svg>");
  }

 private:
  ValueAxis axis(Range PictureScatter::Cell::*side, const Conversion& unit,
                 int wanted) const {
    Range all;
    for (const PictureScatter::Cell& cell : chart_.cells) {
      all.add(cell.*side);
    }
    return {unit.from_canonical(static_cast<double>(all.low)),
            unit.from_canonical(static_cast<double>(all.high)), wanted};
  }
  [[nodiscard]] double x(double shown) const {
    return kLeft + (shown - x_.low) / (x_.high - x_.low) * (kRight - kLeft);
  }
  [[nodiscard]] double y(double shown) const {
    return kBottom - (shown - y_.low) / (y_.high - y_.low) * (kBottom - kTop);
  }
  [[nodiscard]] double px(double canonical) const {
    return x(chart_.x_unit.from_canonical(canonical));
  }
  [[nodiscard]] double py(double canonical) const {
    return y(chart_.y_unit.from_canonical(canonical));
  }
  void cells() {
    double latest = 1.0;
    for (const PictureScatter::Cell& cell : chart_.cells) {
      latest = std::max(latest, cell.mean_ms());
    }
    std::array<std::string, 3> thirds;
    for (const PictureScatter::Cell& cell : chart_.cells) {
      const double a = px(static_cast<double>(cell.x.low));
      const double b = px(static_cast<double>(cell.x.high));
      const double c = py(static_cast<double>(cell.y.high));
      const double d = py(static_cast<double>(cell.y.low));
      const auto third =
          static_cast<std::size_t>(cell.mean_ms() / latest * 2.999);
      // The true extent of the readings, and never thinner than a dot.
      fmt::format_to(std::back_inserter(thirds[third]),
                     "M{:.1f} {:.1f}h{:.1f}v{:.1f}h-{:.1f}z",
                     std::min(a, b) - 1.5, std::min(c, d) - 1.5,
                     std::abs(b - a) + 3.0, std::abs(d - c) + 3.0,
                     std::abs(b - a) + 3.0);
    }
    constexpr std::string_view kStyles[] = {"early", "middle-third", "late"};
    for (std::size_t i = 0; i < thirds.size(); ++i) {
      fmt::format_to(out_, "<path class=\"{}\" d=\"{}\"/>", kStyles[i],
                     thirds[i]);
    }
  }
  void line() {
    if (chart_.line.empty()) return;
    bool pen = false;
    fmt::format_to(out_, "<path class=\"own\" d=\"");
    for (const auto& [at, value] : chart_.line) {
      const double to_x = px(at);
      const double to_y = py(value);
      if (!std::isfinite(to_y) || to_y < kTop || to_y > kBottom ||
          to_x < kLeft || to_x > kRight) {
        pen = false;
        continue;
      }
      fmt::format_to(out_, "{}{:.1f} {:.1f}", pen ? 'L' : 'M', to_x, to_y);
      pen = true;
    }
    // Its name stands above the plot, where no reading can be.
    fmt::format_to(out_,
                   "\"/><text class=\"own-text end\" x=\"{:.0f}\" y=\"14\">"
                   "&mdash; {}</text>",
                   kRight, html(chart_.line_label));
  }

  const ScatterChart& chart_;
  std::back_insert_iterator<fmt::memory_buffer> out_;
  ValueAxis x_;
  ValueAxis y_;
};

}  // namespace

void ScatterChart::draw(fmt::memory_buffer& out) const {
  Drawing(*this, out).draw();
}

}  // namespace telltale::host
