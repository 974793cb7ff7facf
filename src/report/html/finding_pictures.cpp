#include "report/html/finding_pictures.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "report/html/alarm_lanes.hpp"
#include "report/html/time_chart.hpp"
#include "report/html/tracks.hpp"
#include "report/phrases.hpp"
#include "summary/run_picture.hpp"

namespace telltale::host {
namespace {

/// The track that shows best what a finding is about.
std::optional<std::size_t> main_track(const FindingReport& f,
                                      const Picture& picture) {
  if (f.finding.channel != Channel::none &&
      picture.has(index_of(f.finding.channel))) {
    return index_of(f.finding.channel);
  }
  const CheckInfo& info = *f.check->info;
  for (const ChannelMask wanted : {info.needs, info.needs_one}) {
    for (std::size_t i = 0; i < kChannelCount; ++i) {
      if ((wanted & (ChannelMask{1} << i)) != 0 && picture.has(i)) return i;
    }
  }
  for (const std::size_t i :
       {kLoadTrack, index_of(Channel::frequency),
        index_of(Channel::engine_speed), index_of(Channel::battery_voltage)}) {
    if (picture.has(i)) return i;
  }
  return {};
}

/// Values to scale a finding's chart by: those within its window, and around
/// it those of settled running where start or stop would press all flat.
Range scale_of_stretch(const RunPicture& run, const Picture& drawn,
                       std::size_t track, const Finding<double>& finding) {
  const Range settled = run.at_speed[track];
  const Range all = drawn.range_of(track);
  if (settled.empty() || all.empty()) return {};
  Range scale;
  for (const PictureColumn& column : drawn.columns()) {
    const Range& range = column.range[track];
    const bool inside =
        column.last >= finding.since && column.first <= finding.until;
    if (inside || (range.low >= settled.low && range.high <= settled.high)) {
      scale.add(range);
    }
  }
  return !scale.empty() && scale.high - scale.low < (all.high - all.low) * 0.5F
             ? scale
             : Range{};
}

/// Whether the limit is one of the channel itself. In per cent it is one of a
/// share or a deviation, but for what is judged by the load.
bool is_level(const FindingReport& f) {
  const std::string_view slug = f.check->info->slug;
  return f.finding.unit != Unit::pct || slug == "overload" ||
         slug == "stop-under-load";
}

class FindingPictures {
 public:
  FindingPictures(const LogPart& log, const ValueText& text, Document& doc)
      : log_(log), text_(text), doc_(doc) {}

  void write(const NumberedFinding& numbered) {
    const FindingReport& f = *numbered.finding;
    const Picture* source = f.close_up.get();
    if ((source == nullptr || source->empty()) && numbered.run != nullptr &&
        numbered.run->picture != nullptr) {
      source = &numbered.run->picture->overview;
    }
    if (source == nullptr || source->empty()) {
      doc_.put("<p class=\"quiet\">No picture: nothing was drawn for it.</p>");
      return;
    }
    const Picture drawn = thinned(*source, doc_.detail.svg_columns);
    const bool of_alarms =
        f.check->info->slug.starts_with("alarm-") && alarms(numbered, drawn);
    const std::optional<std::size_t> track = main_track(f, drawn);
    if (!track) return;
    if (*track != kLoadTrack && !of_alarms) {
      chart(numbered, drawn, *track, false);
    }
    if (*track == kLoadTrack || drawn.has(kLoadTrack)) {
      chart(numbered, drawn, kLoadTrack, *track != kLoadTrack || of_alarms);
    }
  }

 private:
  /// The controller's alarms in that stretch; false where none stood.
  bool alarms(const NumberedFinding& numbered, const Picture& drawn) {
    AlarmLanes lanes{.picture = &drawn,
                     .names = log_.report->alarm_names,
                     .from = drawn.from(),
                     .to = drawn.to(),
                     .ahead = ahead_of(*numbered.finding),
                     .id = log_.id_of(numbered) + "-alarms",
                     .windows = {window_of(numbered)}};
    if (lanes.bits().empty()) return false;
    doc_.put(
        "<figure class=\"picture\"><figcaption>alarms of the controller"
        "</figcaption>");
    lanes.draw(text_, doc_.out());
    doc_.put("</figure>");
    return true;
  }

  void chart(const NumberedFinding& numbered, const Picture& drawn,
             std::size_t track, bool beneath) {
    const FindingReport& f = *numbered.finding;
    TimeChart chart;
    chart.picture = &drawn;
    chart.track = track;
    chart.from = drawn.from();
    chart.to = drawn.to();
    chart.ahead = ahead_of(f);
    chart.height = beneath ? 104.0 : 200.0;
    chart.id =
        fmt::format("{}-{}", log_.id_of(numbered), beneath ? "load" : "pic");
    const std::string_view unit = unit_of_track(track, text_);
    chart.title = fmt::format("{}, {}", title_of_track(track), unit);
    const Range all = drawn.range_of(track);
    chart.description = fmt::format(
        "From {} to {} {} in the stretch shown; the shaded window is the "
        "finding: {}.",
        grouped(shown_on_track(all.low, track, text_), 1),
        grouped(shown_on_track(all.high, track, text_), 1), unit,
        summary_of(f, text_));
    chart.windows.push_back(window_of(numbered));
    if (!beneath) {
      level(f, track, chart);
      if (numbered.run != nullptr && numbered.run->picture != nullptr) {
        chart.scale =
            scale_of_stretch(*numbered.run->picture, drawn, track, f.finding);
      }
    }
    doc_.put(
        "<figure class=\"picture{}\"><figcaption>{} <span>{}</span>"
        "</figcaption>",
        beneath ? " beneath" : "", safe(title_of_track(track)), safe(unit));
    chart.draw(text_, doc_.out());
    doc_.put("</figure>");
  }

  /// The limit as a line, or else what was expected.
  void level(const FindingReport& f, std::size_t track,
             TimeChart& chart) const {
    const auto channel =
        track == kLoadTrack ? Channel::none : static_cast<Channel>(track);
    const Unit unit = track == kLoadTrack ? Unit::pct : info_of(channel).unit;
    const auto draw = [&](std::string_view name, double value) {
      chart.limit = shown_on_track(value, track, text_);
      chart.limit_label =
          fmt::format("{} {}", name, text_.say(value, unit, channel));
    };
    if (f.finding.unit == unit && std::isfinite(f.finding.limit)) {
      if (is_level(f)) draw("limit", f.finding.limit);
      return;
    }
    for (const Evidence& e : f.evidence) {
      if (e.label == "expected" && e.unit == unit) draw(e.label, e.value);
    }
  }
  static DurationMs ahead_of(const FindingReport& f) {
    return is_set(f.from.logged) && is_set(f.finding.since)
               ? f.from.logged - f.finding.since
               : DurationMs{};
  }
  static Mark window_of(const NumberedFinding& numbered) {
    const Finding<double>& f = numbered.finding->finding;
    return {f.since, std::max(f.since, f.until),
            fmt::format("F{}", numbered.number)};
  }

  const LogPart& log_;
  const ValueText& text_;
  Document& doc_;
};

}  // namespace

void write_finding_pictures(const LogPart& log, const NumberedFinding& numbered,
                            const ValueText& text, Document& doc) {
  FindingPictures(log, text, doc).write(numbered);
}

}  // namespace telltale::host
