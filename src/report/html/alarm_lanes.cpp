#include "report/html/alarm_lanes.hpp"

#include <algorithm>
#include <bit>
#include <iterator>

#include "report/html/axis.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

constexpr double kLane = 28.0;
constexpr double kTop = 4.0;
constexpr double kFoot = 24.0;
constexpr std::size_t kMostLetters = 48;

bool stands(const PictureColumn& column, std::size_t bit) {
  return (column.alarms >> bit & 1U) != 0;
}

class Drawing {
 public:
  Drawing(const AlarmLanes& lanes, fmt::memory_buffer& out)
      : lanes_(lanes),
        out_(std::back_inserter(out)),
        scale_{lanes.from, lanes.to, lanes.left, lanes.right} {}

  void draw(const ValueText& text, fmt::memory_buffer& out) {
    const std::vector<std::size_t> all = lanes_.bits();
    const std::size_t drawn = std::min(all.size(), AlarmLanes::kMostLanes);
    const std::size_t more = all.size() - drawn;
    const double bottom =
        kTop + kLane * static_cast<double>(drawn) + (more > 0 ? 18.0 : 0.0);
    std::string told;
    for (std::size_t i = 0; i < drawn; ++i) {
      told += fmt::format("{}{}", i == 0 ? "" : "; ", name(all[i]));
    }
    fmt::format_to(out_,
                   "<svg class=\"chart\" viewBox=\"0 0 {0:.0f} {1:.0f}\" "
                   "role=\"img\" aria-labelledby=\"{2}-t {2}-d\"><title "
                   "id=\"{2}-t\">Alarms of the controller over time</title>"
                   "<desc id=\"{2}-d\">In the order they came: {3}.</desc>",
                   lanes_.width, bottom + kFoot, lanes_.id, told);
    for (const Mark& window : lanes_.windows) {
      const double a = scale_.x(window.from);
      rect("window", a, kTop, std::max(scale_.x(window.to) - a, 1.5),
           bottom - kTop);
    }
    for (std::size_t i = 0; i < drawn; ++i) {
      lane(all[i], kTop + kLane * static_cast<double>(i));
    }
    if (more > 0) {
      fmt::format_to(out_, "<text x=\"4\" y=\"{:.0f}\">and {} more</text>",
                     bottom - 4.0, more);
    }
    draw_time_axis(scale_,
                   {.ahead = lanes_.ahead,
                    .wanted = lanes_.width > 800.0 ? 9 : 5,
                    .tick_from = bottom,
                    .tick_to = bottom + 4.0,
                    .text_at = bottom + kFoot - 6.0},
                   text, out);
    fmt::format_to(out_, "</svg>");
  }

 private:
  [[nodiscard]] std::string name(std::size_t bit) const {
    return bit < lanes_.names.size()
               ? html(printable(lanes_.names[bit], kMostLetters))
               : fmt::format("alarm {}", bit + 1);
  }
  void rect(std::string_view style, double x, double y, double width,
            double height) {
    fmt::format_to(out_,
                   "<rect class=\"{}\" x=\"{:.1f}\" y=\"{:.0f}\" "
                   "width=\"{:.1f}\" height=\"{:.0f}\"/>",
                   style, x, y, width, height);
  }
  /// The name, and beneath it a bar for each time it stood.
  void lane(std::size_t bit, double y) {
    fmt::format_to(out_, "<text x=\"4\" y=\"{:.0f}\">{}</text>", y + 14.0,
                   name(bit));
    const std::vector<PictureColumn>& columns = lanes_.picture->columns();
    for (std::size_t i = 0; i < columns.size(); ++i) {
      if (!stands(columns[i], bit)) continue;
      const double a = scale_.x(columns[i].first);
      while (i + 1 < columns.size() && stands(columns[i + 1], bit)) ++i;
      rect("stands", a, y + 18.0, std::max(scale_.x(columns[i].last) - a, 1.5),
           7.0);
    }
  }

  const AlarmLanes& lanes_;
  std::back_insert_iterator<fmt::memory_buffer> out_;
  TimeScale scale_;
};

}  // namespace

std::vector<std::size_t> AlarmLanes::bits() const {
  std::vector<std::size_t> out;
  AlarmMask seen = 0;
  for (const PictureColumn& column : picture->columns()) {
    for (AlarmMask fresh = column.alarms & ~seen; fresh != 0;
         fresh &= fresh - 1) {
      out.push_back(static_cast<std::size_t>(std::countr_zero(fresh)));
    }
    seen |= column.alarms;
  }
  return out;
}

void AlarmLanes::draw(const ValueText& text, fmt::memory_buffer& out) const {
  Drawing(*this, out).draw(text, out);
}

}  // namespace telltale::host
