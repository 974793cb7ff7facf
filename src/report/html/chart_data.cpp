#include "report/html/chart_data.hpp"

#include <algorithm>
#include <cmath>

#include "report/html/axis.hpp"
#include "report/html/phase_strip.hpp"
#include "report/html/tracks.hpp"
#include "summary/run_picture.hpp"

namespace telltale::host {
namespace {

class ChartData {
 public:
  ChartData(const LogPart& log, const RunReport& run, const ValueText& text,
            Document& doc)
      : log_(log),
        run_(run),
        text_(text),
        doc_(doc),
        drawn_(thinned(run.picture->overview, doc.detail.data_columns)) {}

  void write() {
    const RunMarks marks(log_, run_);
    start_ = drawn_.from();
    doc_.put("{{\"id\":\"{}\",\"start\":{},\"elapsed\":{},\"clock\":[",
             log_.id_of(run_), start_.ms, log_.report->layout.elapsed);
    bool first = true;
    for (const ClockMap::Piece& piece : run_.picture->clock.pieces()) {
      doc_.put("{}[{},{}]", first ? "" : ",", since(piece.from),
               piece.ahead_ms);
      first = false;
    }
    doc_.put("],\"load\":");
    spans(marks.on_load);
    doc_.put(",\"steps\":[");
    first = true;
    for (const TimeMs at : marks.steps) {
      doc_.put("{}{}", first ? "" : ",", since(at));
      first = false;
    }
    doc_.put("],\"findings\":[");
    findings();
    doc_.put("],\"t\":[");
    first = true;
    for (const PictureColumn& column : drawn_.columns()) {
      doc_.put("{}{}", first ? "" : ",", since(column.first));
      first = false;
    }
    doc_.put("],\"tracks\":{{");
    first = true;
    for (std::size_t track = 0; track < kTrackCount; ++track) {
      if (!drawn_.has(track)) continue;
      if (track == kLoadTrack && drawn_.has(index_of(Channel::load))) continue;
      if (!first) doc_.put(",");
      first = false;
      write_track(track);
    }
    doc_.put("}}}}");
  }

 private:
  [[nodiscard]] std::int64_t since(TimeMs at) const { return (at - start_).ms; }
  void spans(const std::vector<Mark>& marks) {
    doc_.put("[");
    bool first = true;
    for (const Mark& mark : marks) {
      doc_.put("{}[{},{}]", first ? "" : ",", since(mark.from), since(mark.to));
      first = false;
    }
    doc_.put("]");
  }
  void findings() {
    bool first = true;
    for (const NumberedFinding& f : log_.findings) {
      const Finding<double>& finding = f.finding->finding;
      if (f.run != &run_ || !is_set(finding.since)) continue;
      doc_.put(
          "{}[{},{},\"F{}\",\"{}\"]", first ? "" : ",", since(finding.since),
          since(std::max(finding.since, finding.until)), f.number,
          finding.channel == Channel::none ? std::string_view()
                                           : info_of(finding.channel).slug);
      first = false;
    }
  }
  void write_track(std::size_t track) {
    doc_.put("\"{}\":{{\"title\":\"{}\",\"unit\":\"{}\",\"lo\":[",
             slug_of_track(track), title_of_track(track),
             unit_of_track(track, text_));
    const bool spread = values(track, false);
    doc_.put("]");
    const Range scale = scale_of_track(*run_.picture, track);
    if (!scale.empty()) {
      const double a = shown_on_track(scale.low, track, text_);
      const double b = shown_on_track(scale.high, track, text_);
      const ValueAxis axis(std::min(a, b), std::max(a, b), 4);
      doc_.put(",\"scale\":[{:.5g},{:.5g}]", axis.low, axis.high);
    }
    if (spread) {
      doc_.put(",\"hi\":[");
      values(track, true);
      doc_.put("]");
    }
    doc_.put("}}");
  }
  /// Whether some column holds more than one value. An empty column is an
  /// empty element, null to the script.
  bool values(std::size_t track, bool highest) {
    bool spread = false;
    bool first = true;
    for (const PictureColumn& column : drawn_.columns()) {
      const Range& range = column.range[track];
      if (!first) doc_.put(",");
      first = false;
      if (range.empty()) {
        doc_.put("null");
        continue;
      }
      spread = spread || range.low < range.high;
      const double value = shown_on_track(
          static_cast<double>(highest ? range.high : range.low), track, text_);
      if (std::isfinite(value)) {
        doc_.put("{:.5g}", value);
      } else {
        doc_.put("null");
      }
    }
    return spread;
  }

  const LogPart& log_;
  const RunReport& run_;
  const ValueText& text_;
  Document& doc_;
  Picture drawn_;
  TimeMs start_ = kNoTime;
};

}  // namespace

void write_chart_data(const LogPart& log, const RunReport& run,
                      const ValueText& text, Document& doc) {
  ChartData(log, run, text, doc).write();
}

}  // namespace telltale::host
