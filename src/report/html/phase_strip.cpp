#include "report/html/phase_strip.hpp"

#include <algorithm>

#include "report/html/axis.hpp"
#include "report/html/load_steps.hpp"
#include "summary/run_picture.hpp"

namespace telltale::host {
namespace {

constexpr double kWidth = 1060.0;
constexpr double kLeft = 4.0;
constexpr double kRight = 1056.0;

class Strip {
 public:
  Strip(const RunMarks& marks, const ValueText& text, Document& doc)
      : marks_(marks),
        text_(text),
        doc_(doc),
        scale_{marks.from, marks.to, kLeft, kRight} {
    lanes();
    height_ = 66.0 + 18.0 * static_cast<double>(
                                std::max<std::size_t>(ends_.size(), 1));
  }

  void draw(const std::string& id) {
    doc_.put(
        "<figure class=\"strip\" tabindex=\"0\"><figcaption>Phases, load steps "
        "and findings"
        "</figcaption><svg class=\"chart\" viewBox=\"0 0 {0:.0f} {1:.0f}\" "
        "role=\"img\" aria-labelledby=\"{2}-t {2}-d\"><title id=\"{2}-t\">"
        "Phases, load steps and findings over time</title>"
        "<desc id=\"{2}-d\">{3}</desc>",
        kWidth, height_, id, describe());
    for (const Mark& phase : marks_.phases) block(phase);
    ticks();
    for (std::size_t i = 0; i < marks_.findings.size(); ++i) {
      finding(marks_.findings[i], lane_[i]);
    }
    draw_time_axis(scale_,
                   {.ahead = marks_.ahead,
                    .wanted = 9,
                    .tick_from = 26.0,
                    .tick_to = height_ - 18.0,
                    .text_at = height_ - 4.0},
                   text_, doc_.out());
    doc_.put("</svg></figure>");
  }

 private:
  [[nodiscard]] double x(TimeMs at) const { return scale_.x(at); }
  static double text_width(std::string_view label) {
    return 8.0 * static_cast<double>(label.size()) + 8.0;
  }
  /// Each finding gets the first lane that is free where it begins.
  void lanes() {
    for (const Mark& mark : marks_.findings) {
      const double at = x(mark.from);
      std::size_t lane = 0;
      while (lane < ends_.size() && ends_[lane] > at) ++lane;
      if (lane == ends_.size()) ends_.push_back(0.0);
      ends_[lane] =
          std::max(x(mark.to), at + 4.0) + text_width(mark.label) + 4.0;
      lane_.push_back(lane);
    }
  }
  void block(const Mark& phase) {
    const double a = x(phase.from);
    const double b = std::max(x(phase.to), a + 1.0);
    std::string style = phase.label;
    std::replace(style.begin(), style.end(), ' ', '-');
    doc_.put(
        "<rect class=\"phase {}\" x=\"{:.1f}\" y=\"2\" "
        "width=\"{:.1f}\" height=\"24\"><title>{}</title></rect>",
        style, a, b - a, phase.label);
    if (b - a < text_width(phase.label)) return;
    doc_.put("<text class=\"on-phase middle\" x=\"{:.1f}\" y=\"19\">{}</text>",
             (a + b) / 2.0, phase.label);
  }
  /// A stroke for each load step that can be told from its neighbour.
  void ticks() {
    double last = -10.0;
    doc_.put("<path class=\"tick\" d=\"");
    for (const TimeMs at : marks_.all_steps) {
      const double here = x(at);
      if (here - last < 1.0) continue;
      doc_.put("M{:.1f} 28v10", here);
      last = here;
    }
    doc_.put("\"/>");
  }
  void finding(const Mark& mark, std::size_t lane) {
    const double a = x(mark.from);
    const double b = std::max(x(mark.to), a + 4.0);
    const double y = 42.0 + 18.0 * static_cast<double>(lane);
    doc_.put(
        "<rect class=\"bar\" x=\"{:.1f}\" y=\"{:.0f}\" "
        "width=\"{:.1f}\" height=\"12\" rx=\"2\"/>",
        a, y, b - a);
    const bool outside = b + text_width(mark.label) < kRight;
    const bool left = !outside && a - text_width(mark.label) > kLeft;
    doc_.put("<text class=\"mark{}\" x=\"{:.1f}\" y=\"{:.0f}\">{}</text>",
             left ? " end" : "",
             outside ? b + 4.0
             : left  ? a - 4.0
                     : a + 4.0,
             y + 11.0, mark.label);
  }
  [[nodiscard]] std::string describe() const {
    std::string out;
    for (const Mark& phase : marks_.phases) {
      if (out.size() > 500) break;
      if (!out.empty()) out += ", ";
      out += fmt::format(
          "{} {}", phase.label,
          duration_text(static_cast<double>((phase.to - phase.from).ms) /
                        1000.0));
    }
    return fmt::format("{}. {} load steps, {} findings.", out,
                       marks_.all_steps.size(), marks_.findings.size());
  }

  const RunMarks& marks_;
  const ValueText& text_;
  Document& doc_;
  TimeScale scale_;
  std::vector<double> ends_;
  std::vector<std::size_t> lane_;
  double height_ = 0.0;
};

}  // namespace

RunMarks::RunMarks(const LogPart& log, const RunReport& run) {
  const RunPicture& picture = *run.picture;
  from = picture.overview.from();
  to = picture.overview.to();
  ahead = picture.clock.logged(picture.start) - picture.start;
  for (const PhaseSpan& span : run.phases) {
    if (!is_set(span.since) || span.until < from || span.since > to) continue;
    const Mark mark{span.since, span.until, std::string(name_of(span.phase))};
    phases.push_back(mark);
    if (span.phase == Phase::on_load) on_load.push_back(mark);
  }
  const auto place = [&](const std::vector<LoadStep>& of,
                         std::vector<TimeMs>& on_axis) {
    for (const LoadStep& step : of) {
      if (!is_set(step.logged)) continue;
      on_axis.push_back(picture.clock.analysis(step.logged));
    }
  };
  place(largest_steps(run), steps);
  place(run.load_steps, all_steps);
  for (const NumberedFinding& f : log.findings) {
    if (f.run != &run || !is_set(f.finding->finding.since)) continue;
    const Finding<double>& finding = f.finding->finding;
    findings.push_back({finding.since, std::max(finding.since, finding.until),
                        fmt::format("F{}", f.number)});
  }
}

void write_phase_strip(const RunMarks& marks, const std::string& id,
                       const ValueText& text, Document& doc) {
  Strip(marks, text, doc).draw(id);
}

}  // namespace telltale::host
