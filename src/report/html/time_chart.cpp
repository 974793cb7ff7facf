#include "report/html/time_chart.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

#include "report/html/axis.hpp"
#include "report/html/tracks.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

constexpr double kWidth = 520.0;
constexpr double kLeft = 60.0;  // room for "15,200"
constexpr double kRight = 512.0;
constexpr double kTop = 10.0;

class Drawing {
 public:
  Drawing(const TimeChart& chart, const ValueText& text,
          fmt::memory_buffer& out)
      : chart_(chart),
        text_(text),
        buffer_(out),
        out_(std::back_inserter(out)),
        scale_{chart.from, chart.to, kLeft, kRight},
        height_(chart.height),
        bottom_(height_ - 24.0),
        range_(values()),
        axis_(range_.first, range_.second, chart.height < 150.0 ? 3 : 4) {}

  void draw() {
    fmt::format_to(out_,
                   "<svg class=\"chart\" viewBox=\"0 0 {0:.0f} {1:.0f}\" "
                   "role=\"img\" aria-labelledby=\"{2}-t {2}-d\">"
                   "<title id=\"{2}-t\">{3}</title><desc id=\"{2}-d\">{4}"
                   "</desc>",
                   kWidth, height_, chart_.id, html(chart_.title),
                   html(chart_.description));
    for (const Mark& shade : chart_.shades) box(shade, "onload");
    for (const Mark& window : chart_.windows) box(window, "window");
    value_grid();
    draw_time_axis(scale_,
                   {.ahead = chart_.ahead,
                    .tick_from = bottom_,
                    .tick_to = bottom_ + 4.0,
                    .text_at = height_ - 6.0},
                   text_, buffer_);
    steps();
    line();
    limit();
    window_labels();
    fmt::format_to(out_, "</svg>");
  }

 private:
  std::pair<double, double> values() {
    const Range all = chart_.scale.empty()
                          ? chart_.picture->range_of(chart_.track)
                          : chart_.scale;
    double a = shown_on_track(all.low, chart_.track, text_);
    double b = shown_on_track(all.high, chart_.track, text_);
    if (a > b) std::swap(a, b);
    // A limit far away would press the line flat.
    if (std::isfinite(chart_.limit) && a <= b) {
      const double reach = std::max(b - a, std::abs(b) * 0.25) * 3.0;
      if (chart_.limit > a - reach && chart_.limit < b + reach) {
        a = std::min(a, chart_.limit);
        b = std::max(b, chart_.limit);
      }
    }
    return {a, b};
  }
  [[nodiscard]] double x(TimeMs at) const { return scale_.x(at); }
  [[nodiscard]] double y(double shown) const {
    const double share = (shown - axis_.low) / (axis_.high - axis_.low);
    return bottom_ - std::clamp(share, 0.0, 1.0) * (bottom_ - kTop);
  }
  void box(const Mark& mark, std::string_view style) {
    const double a = x(mark.from);
    const double b = std::max(x(mark.to), a + 1.5);
    fmt::format_to(out_,
                   "<rect class=\"{}\" x=\"{:.1f}\" y=\"{:.0f}\" "
                   "width=\"{:.1f}\" height=\"{:.0f}\"/>",
                   style, a, kTop, b - a, bottom_ - kTop);
  }
  void steps() {
    if (chart_.steps.empty()) return;
    fmt::format_to(out_, "<path class=\"step\" d=\"");
    for (const TimeMs at : chart_.steps) {
      if (at < chart_.from || at > chart_.to) continue;
      fmt::format_to(out_, "M{:.1f} {:.0f}V{:.0f}", x(at), kTop, bottom_);
    }
    fmt::format_to(out_, "\"/>");
  }
  void value_grid() {
    for (const double tick : axis_.ticks) {
      fmt::format_to(out_,
                     "<path class=\"grid\" d=\"M{:.0f} {:.1f}H{:.0f}\"/>"
                     "<text class=\"end\" x=\"{:.0f}\" y=\"{:.1f}\">{}"
                     "</text>",
                     kLeft, y(tick), kRight, kLeft - 5, y(tick) + 4.0,
                     axis_.label(tick));
    }
  }
  /// The line may not join what is far apart.
  [[nodiscard]] std::int64_t longest_join() const {
    std::vector<std::int64_t> steps;
    TimeMs last = kNoTime;
    for (const PictureColumn& column : chart_.picture->columns()) {
      if (column.range[chart_.track].empty()) continue;
      if (is_set(last)) steps.push_back((column.first - last).ms);
      last = column.first;
    }
    if (steps.empty()) return 0;
    const auto middle =
        steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
    std::nth_element(steps.begin(), middle, steps.end());
    return *middle * 6;
  }
  void line() {
    const std::int64_t join = longest_join();
    TimeMs last = kNoTime;
    double was = 0.0;
    fmt::format_to(out_, "<path class=\"line\" d=\"");
    for (const PictureColumn& column : chart_.picture->columns()) {
      const Range& range = column.range[chart_.track];
      if (range.empty()) continue;
      const double px = x(column.first);
      double near = y(shown_on_track(range.low, chart_.track, text_));
      double far = y(shown_on_track(range.high, chart_.track, text_));
      const bool joined = is_set(last) && (column.first - last).ms <= join;
      if (joined && std::abs(far - was) < std::abs(near - was)) {
        std::swap(near, far);
      }
      fmt::format_to(out_, "{}{:.1f} {:.1f}", joined ? 'L' : 'M', px, near);
      // A lone reading is a dot (round caps).
      if (std::abs(far - near) > 0.05) {
        fmt::format_to(out_, "V{:.1f}", far);
      } else if (!joined) {
        fmt::format_to(out_, "h.1");
      }
      was = far;
      last = column.last;
    }
    fmt::format_to(out_, "\"/>");
  }
  void limit() {
    if (!(chart_.limit >= axis_.low && chart_.limit <= axis_.high)) return;
    const double at = y(chart_.limit);
    const double text_at = at - kTop < 14.0 ? at + 13.0 : at - 4.0;
    fmt::format_to(out_,
                   "<path class=\"limit\" d=\"M{:.0f} {:.1f}H{:.0f}\"/>"
                   "<text class=\"limit-text end\" x=\"{:.0f}\" "
                   "y=\"{:.1f}\">{}</text>",
                   kLeft, at, kRight, kRight - 3.0, text_at,
                   html(chart_.limit_label));
  }
  void window_labels() {
    double free = 0.0;
    for (const Mark& window : chart_.windows) {
      if (window.label.empty()) continue;
      const double at = x(window.from);
      if (at < free) continue;
      free = at + 8.0 * static_cast<double>(window.label.size()) + 4.0;
      fmt::format_to(
          out_, "<text class=\"mark\" x=\"{:.1f}\" y=\"{:.0f}\">{}</text>",
          std::min(at + 2.0, kRight - 26.0), kTop + 11.0, html(window.label));
    }
  }

  const TimeChart& chart_;
  const ValueText& text_;
  fmt::memory_buffer& buffer_;
  std::back_insert_iterator<fmt::memory_buffer> out_;
  TimeScale scale_;
  double height_;
  double bottom_;
  std::pair<double, double> range_;
  ValueAxis axis_;
};

}  // namespace

void TimeChart::draw(const ValueText& text, fmt::memory_buffer& out) const {
  Drawing(*this, text, out).draw();
}

}  // namespace telltale::host
