// Pictures as SVG of a fixed inner size; classes say what things are.
#include "alarms/html_pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "report/value_text.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {
namespace {

constexpr double kWidth = 960.0;
constexpr double kLeft = 240.0;  // room for names
constexpr double kRight = 950.0;
constexpr std::size_t kMostLanes = 24;

/// Time to the right.
class TimeScale {
 public:
  explicit TimeScale(const AlarmReport& report) {
    if (report.from) from_ = report.from->at;
    if (report.to) to_ = report.to->at;
    if (to_ <= from_) to_ = from_ + seconds(1);
  }
  [[nodiscard]] double x(TimeMs at) const {
    const double share =
        seconds_between(from_, at) / seconds_between(from_, to_);
    return kLeft + (kRight - kLeft) * std::clamp(share, 0.0, 1.0);
  }

 private:
  TimeMs from_{0};
  TimeMs to_{0};
};

std::string head(double height, std::string_view label) {
  return fmt::format(
      "<svg role=\"img\" viewBox=\"0 0 {} {}\" "
      "aria-label=\"{}\">\n",
      kWidth, height, html(label));
}

std::string rect(std::string_view css, double x, double y, double width,
                 double height, std::string_view title = {}) {
  std::string out = fmt::format(
      "<rect class=\"{}\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" "
      "height=\"{:.1f}\"",
      css, x, y, std::max(width, 0.5), height);
  return title.empty()
             ? out + "/>\n"
             : out + fmt::format("><title>{}</title></rect>\n", html(title));
}

/// A box as a part of a path.
std::string box(double x, double y, double width, double height) {
  return fmt::format("M{:.1f} {:.1f}h{:.1f}v{:.1f}h-{:.1f}z", x, y, width,
                     height, width);
}

std::string text(std::string_view css, double x, double y,
                 std::string_view words) {
  return fmt::format("<text class=\"{}\" x=\"{:.1f}\" y=\"{:.1f}\">{}</text>\n",
                     css, x, y, html(words));
}

std::string line(std::string_view css, double x1, double y1, double x2,
                 double y2) {
  return fmt::format(
      "<line class=\"{}\" x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" "
      "y2=\"{:.1f}\"/>\n",
      css, x1, y1, x2, y2);
}

std::string flood_spans(const AlarmReport& report, const TimeScale& scale,
                        double y, double height) {
  std::string out;
  for (const Flood& flood : report.floods) {
    const double from = scale.x(flood.from.at);
    out += rect("flood", from, y, scale.x(flood.to) - from, height,
                fmt::format("flood of {} raises, at most {} in 10 min",
                            flood.raises, flood.peak));
  }
  return out;
}

std::string time_axis(const AlarmReport& report, double y) {
  const ValueText words(UnitSystem::as_logged, report.layout);
  return line("axis", kLeft, y, kRight, y) +
         text("label", kLeft, y + 14, words.stamp(report.from->logged)) +
         text("label end", kRight, y + 14, words.stamp(report.to->logged));
}

}  // namespace

std::string timeline_svg(const AlarmReport& report) {
  if (!report.from || report.alarms.empty()) return "";
  constexpr double kLane = 16.0;
  const TimeScale scale(report);
  const std::size_t lanes = std::min(kMostLanes, report.alarms.size());
  const double height = static_cast<double>(lanes) * kLane;
  std::string out = head(height + 24, "alarms over time");
  out += flood_spans(report, scale, 0, height);
  for (std::size_t i = 0; i < lanes; ++i) {
    const AlarmFigures& f = report.alarms[i];
    const double y = static_cast<double>(i) * kLane;
    const std::string name = printable(full_name(report.name(f.alarm)), 200);
    out += text(f.chatters() ? "label end chatters" : "label end", kLeft - 6,
                y + 12, printable(name, 28));
    const double bin_ms = static_cast<double>(f.lane.bin_length().ms);
    std::string stood;
    std::string raised;
    for (std::size_t b = 0; b < f.lane.bins().size(); ++b) {
      const AlarmLane::Bin& bin = f.lane.bins()[b];
      const auto edge = [&](std::size_t n) {
        return scale.x(report.from->at + DurationMs{static_cast<std::int64_t>(
                                             bin_ms * static_cast<double>(n))});
      };
      const double x = edge(b);
      const double width = std::max(edge(b + 1) - x, 0.5);
      if (bin.standing_s > 0.0F) {
        const double share = std::min(
            1.0, static_cast<double>(bin.standing_s) * 1000.0 / bin_ms);
        const double tall = std::max(1.0, share * (kLane - 4));
        stood += box(x, y + kLane - 2 - tall, width, tall);
      }
      if (bin.raises > 0) {
        raised += box(x, y + 1, std::min(width, 2.0), kLane - 3);
      }
    }
    out += fmt::format(
        "<g><title>{}: {} raised</title><path class=\"standing\" d=\"{}\"/>"
        "<path class=\"raise{}\" d=\"{}\"/></g>\n",
        html(name), f.raises, stood, f.chatters() ? " chatters" : "", raised);
  }
  return out + time_axis(report, height + 2) + "</svg>\n";
}

std::string rate_svg(const AlarmReport& report) {
  const auto& bins = report.counts.bins();
  if (!report.from || bins.empty()) return "";
  constexpr double kHeight = 140.0;
  const TimeScale scale(report);
  std::uint32_t most = 12;
  for (const IntervalCounts::Bin& bin : bins) most = std::max(most, bin.most);
  const auto y = [&](double raises) {
    return kHeight - (kHeight - 8) * raises / most;
  };
  std::string out =
      head(kHeight + 24, "raises in ten minutes, and spans of flood");
  out += flood_spans(report, scale, 0, kHeight);
  for (std::size_t b = 0; b < bins.size(); ++b) {
    if (bins[b].most == 0) continue;
    const TimeMs from =
        report.counts.bins_from() + DurationMs{report.counts.bin_length().ms *
                                               static_cast<std::int64_t>(b)};
    const double x = scale.x(from);
    out += rect(bins[b].most > 10 ? "rate over" : "rate", x, y(bins[b].most),
                scale.x(from + report.counts.bin_length()) - x,
                kHeight - y(bins[b].most),
                fmt::format("at most {} in 10 min", bins[b].most));
  }
  out += line("limit", kLeft, y(10), kRight, y(10));
  out += text("label end", kLeft - 6, y(10) + 4, "10 in 10 min");
  out += text("label end", kLeft - 6, 12, fmt::format("{}", most));
  return out + time_axis(report, kHeight) + "</svg>\n";
}

std::string cure_svg(const Cure& cure, LogUnit wanted) {
  if (cure.outcomes.empty() || cure.raises == 0) return "";
  constexpr double kHeight = 150.0;
  const auto y = [&](double raises) {
    return 10 + (kHeight - 20) * (1.0 - raises / cure.raises);
  };
  // Only a cure by its channel has deadbands, in the channel's unit.
  const LogUnit unit =
      cure.limit ? shown_unit(*cure.limit, wanted) : LogUnit::none;
  struct Curve {
    std::string_view css;
    std::string title;
    std::vector<const CureOutcome*> points;
  };
  Curve curves[] = {{"on", "on-delay", {}},
                    {"off", "off-delay", {}},
                    {"band", fmt::format("deadband, {}", symbol_of(unit)), {}}};
  for (const CureOutcome& o : cure.outcomes) {
    const CureSetting& s = o.setting;
    const int kinds =
        (s.on_delay_s > 0) + (s.off_delay_s > 0) + (s.deadband > 0);
    if (kinds != 1) continue;
    curves[s.on_delay_s > 0    ? 0
           : s.off_delay_s > 0 ? 1
                               : 2]
        .points.push_back(&o);
  }
  std::string out = head(kHeight + 38, "raises left by each setting");
  double x = 70.0;
  out += text("label end", x - 8, y(cure.raises) + 4,
              fmt::format("{}", cure.raises));
  out += text("label end", x - 8, y(0) + 4, "0");
  for (const Curve& curve : curves) {
    if (curve.points.empty()) continue;
    constexpr double kStep = 46.0;
    const double from = x;
    std::string path = fmt::format("{:.1f},{:.1f}", x, y(cure.raises));
    std::string marks;
    for (const CureOutcome* o : curve.points) {
      x += kStep;
      path += fmt::format(" {:.1f},{:.1f}", x, y(o->raises));
      const bool proposed =
          cure.proposal && &cure.outcomes[*cure.proposal] == o;
      const std::string words = words_for(o->setting, cure.limit, wanted);
      marks += fmt::format(
          "<circle class=\"{}\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"{}\">"
          "<title>{}: {} raise{} left{}{}</title></circle>\n",
          proposed             ? "proposed"
          : !o->barred.empty() ? "barred"
          : o->chatters        ? "chatters"
                               : "cured",
          x, y(o->raises), proposed ? 6 : 4, html(words), o->raises,
          o->raises == 1 ? "" : "s", o->chatters ? ", still chatters" : "",
          o->barred.empty() ? "" : ", no: " + html(o->barred));
      const double delay = o->setting.on_delay_s + o->setting.off_delay_s;
      marks += text(
          "label middle", x, kHeight + 12,
          delay > 0 ? duration_text(delay)
                    : fmt::format("{:.3g}", shown_deadband(o->setting,
                                                           *cure.limit, unit)));
    }
    out += line("axis", from, y(0), x + 10, y(0));
    out += fmt::format("<polyline class=\"curve {}\" points=\"{}\"/>\n",
                       curve.css, path);
    out += marks;
    out += text("label", from + kStep, kHeight + 30, curve.title);
    x += 30.0;
  }
  return out + "</svg>\n";
}

}  // namespace telltale::host
