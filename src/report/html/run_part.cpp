#include "report/html/run_part.hpp"

#include <algorithm>
#include <cmath>

#include "report/html/alarm_lanes.hpp"
#include "report/html/load_steps.hpp"
#include "report/html/phase_strip.hpp"
#include "report/html/run_tables.hpp"
#include "report/html/scatter_chart.hpp"
#include "report/html/tracks.hpp"
#include "summary/run_picture.hpp"

namespace telltale::host {
namespace {

Conversion conversion_of(Channel channel, const ValueText& text) {
  return conversion(text.unit_of(channel), info_of(channel).unit)
      .value_or(Conversion{});
}
std::string axis_title(Channel channel, const ValueText& text) {
  return fmt::format("{}, {}", info_of(channel).title,
                     symbol_of(text.unit_of(channel)));
}

class RunPart {
 public:
  RunPart(const LogPart& log, const RunReport& run, const ValueText& text,
          Document& doc)
      : log_(log), run_(run), text_(text), doc_(doc), id_(log.id_of(run)) {}

  void write() {
    doc_.put("<section class=\"run\" id=\"{}\"><h2>{} {}</h2>", id_,
             capital(name_of_run(run_)), badge(run_.verdict));
    write_run_facts(run_, text_, doc_);
    if (run_.picture && !run_.picture->overview.empty()) {
      pictures();
    } else {
      doc_.put("<p class=\"quiet\">No pictures were drawn of this run.</p>");
    }
    write_run_tables(run_, text_, doc_);
    doc_.put("</section>\n");
  }

 private:
  static std::string capital(std::string text) {
    if (text.rfind("run", 0) == 0) text[0] = 'R';
    return text;
  }

  void pictures() {
    const RunMarks marks(log_, run_);
    const Picture drawn =
        thinned(run_.picture->overview, doc_.detail.svg_columns);
    write_phase_strip(marks, id_ + "-strip", text_, doc_);
    alarms(marks);
    doc_.put(
        "<p class=\"key\"><span class=\"swatch onload\"></span> on load "
        "<span class=\"swatch window\"></span> a finding "
        "<span class=\"swatch step\"></span> {1}</p>"
        "<div class=\"tools\" role=\"group\" aria-label=\"Zoom, all "
        "charts of this run\" data-tools=\"{0}\" hidden>"
        "<button type=\"button\" data-do=\"in\">Zoom in</button>"
        "<button type=\"button\" data-do=\"out\">Zoom out</button>"
        "<button type=\"button\" data-do=\"back\">Earlier</button>"
        "<button type=\"button\" data-do=\"on\">Later</button>"
        "<button type=\"button\" data-do=\"all\">Whole run</button>"
        "<span class=\"hint\">or drag across a chart</span></div>"
        "<div class=\"charts\" data-run=\"{0}\">",
        id_,
        marks.steps.size() < marks.all_steps.size()
            ? fmt::format("one of the {} largest load steps", kMostSteps)
            : std::string("a load step"));
    for (std::size_t track = 0; track < kTrackCount; ++track) {
      if (!drawn.has(track)) continue;
      if (track == kLoadTrack && drawn.has(index_of(Channel::load))) continue;
      channel(marks, drawn, track);
    }
    doc_.put("</div><div class=\"charts\">");
    oil();
    droop();
    doc_.put("</div>");
  }

  /// The controller's own alarms, on the axis of the phases.
  void alarms(const RunMarks& marks) {
    AlarmLanes lanes{.picture = &run_.picture->overview,
                     .names = log_.report->alarm_names,
                     .from = marks.from,
                     .to = marks.to,
                     .ahead = marks.ahead,
                     .width = 1060.0,
                     .left = 4.0,
                     .right = 1056.0,
                     .id = id_ + "-alarms"};
    if (lanes.bits().empty()) return;
    doc_.put(
        "<figure class=\"strip\" tabindex=\"0\"><figcaption>Alarms of the "
        "controller</figcaption>");
    lanes.draw(text_, doc_.out());
    doc_.put("</figure>");
  }

  void channel(const RunMarks& marks, const Picture& drawn, std::size_t track) {
    TimeChart chart;
    chart.picture = &drawn;
    chart.track = track;
    chart.from = marks.from;
    chart.to = marks.to;
    chart.ahead = marks.ahead;
    chart.id = fmt::format("{}-{}", id_, slug_of_track(track));
    const std::string_view unit = unit_of_track(track, text_);
    chart.title = fmt::format("{}, {}", title_of_track(track), unit);
    const Range all = drawn.range_of(track);
    chart.description =
        fmt::format("Lowest {}, highest {} {} over the run.",
                    grouped(shown_on_track(all.low, track, text_), 1),
                    grouped(shown_on_track(all.high, track, text_), 1), unit);
    chart.shades = marks.on_load;
    chart.windows = marks_of(marks, track);
    chart.steps = marks.steps;
    chart.scale = scale_of_track(*run_.picture, track);
    doc_.put(
        "<figure class=\"channel\" data-track=\"{}\"><figcaption>{} "
        "<span>{}{}</span></figcaption>",
        slug_of_track(track), safe(title_of_track(track)), safe(unit),
        chart.scale.empty() ? "" : ", scaled to running");
    chart.draw(text_, doc_.out());
    doc_.put("</figure>");
  }
  /// Windows of the findings that are about this channel.
  [[nodiscard]] std::vector<Mark> marks_of(const RunMarks& marks,
                                           std::size_t track) const {
    std::vector<Mark> out;
    std::size_t i = 0;
    for (const NumberedFinding& f : log_.findings) {
      if (f.run != &run_ || !is_set(f.finding->finding.since)) continue;
      const Channel channel = f.finding->finding.channel;
      const bool here =
          channel == Channel::none
              ? track == kLoadTrack || track == index_of(Channel::load)
              : index_of(channel) == track;
      if (here) out.push_back(marks.findings[i]);
      ++i;
    }
    return out;
  }

  void oil() {
    const OilPicture& oil = run_.picture->oil;
    if (oil.cells.size() < 3) return;
    const Channel over = oil.by_coolant ? Channel::coolant_temperature
                                        : Channel::oil_temperature;
    ScatterChart chart;
    chart.cells = oil.cells.cells(doc_.detail.cells);
    chart.x_unit = conversion_of(over, text_);
    chart.y_unit = conversion_of(Channel::oil_pressure, text_);
    chart.x_title = axis_title(over, text_);
    chart.y_title = axis_title(Channel::oil_pressure, text_);
    chart.id = id_ + "-oil";
    chart.title = "Oil pressure against temperature";
    Range span;
    for (const PictureScatter::Cell& cell : chart.cells) span.add(cell.x);
    for (int i = 0; i <= 60; ++i) {
      const double at = static_cast<double>(span.low) +
                        static_cast<double>(span.high - span.low) * i / 60.0;
      chart.line.emplace_back(at, oil.expected(at));
    }
    const bool known =
        std::any_of(chart.line.begin(), chart.line.end(),
                    [](const auto& p) { return std::isfinite(p.second); });
    if (!known) chart.line.clear();
    chart.line_label = oil.own.known ? "this set's own line"
                                     : "line of this run's first third";
    chart.description = fmt::format(
        "Readings at speed, {}. {}",
        oil.by_coolant ? "over the coolant's temperature, as the oil's own is "
                         "not logged"
                       : "over the oil's temperature",
        known ? "The line is what this set shows when well: " +
                    chart.line_label + "."
              : "No line: this run was too short or too even to teach one.");
    scatter(chart);
  }

  void droop() {
    const DroopPicture& droop = run_.picture->droop;
    if (droop.cells.size() < 3) return;
    ScatterChart chart;
    chart.cells = droop.cells.cells(doc_.detail.cells);
    chart.y_unit = conversion_of(Channel::frequency, text_);
    chart.x_title = run_.picture->load_rated ? "load, % of rating"
                                             : "load, % of the log's highest";
    chart.y_title = axis_title(Channel::frequency, text_);
    chart.id = id_ + "-droop";
    chart.title = "Frequency against load";
    const bool known = std::isfinite(droop.hz_per_percent) &&
                       std::isfinite(droop.hz_at_no_load);
    if (known) {
      for (int i = 0; i <= 20; ++i) {
        const double at = 5.0 * i;
        chart.line.emplace_back(
            at, droop.hz_at_no_load + droop.hz_per_percent * at);
      }
      chart.line_label =
          fmt::format("droop {:.2f} Hz per 10 % of load",
                      std::max(0.0, -droop.hz_per_percent * 10.0));
    }
    chart.description =
        known ? "Readings at steady speed. The line has the slope found in "
                "this run's changes of load: " +
                    chart.line_label + "."
              : "Readings at steady speed. Too few changes of load to tell "
                "the droop.";
    scatter(chart);
  }

  void scatter(const ScatterChart& chart) {
    doc_.put("<figure class=\"scatter\"><figcaption>{}</figcaption>",
             chart.title);
    chart.draw(doc_.out());
    doc_.put(
        "<p class=\"quiet\">{} Open marks are from the run's first third, "
        "full ones from its last.</p></figure>",
        chart.description);
  }

  const LogPart& log_;
  const RunReport& run_;
  const ValueText& text_;
  Document& doc_;
  std::string id_;
};

}  // namespace

void write_run(const LogPart& log, const RunReport& run, const ValueText& text,
               Document& doc) {
  RunPart(log, run, text, doc).write();
}

}  // namespace telltale::host
