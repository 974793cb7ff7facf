#include "report/html/finding_part.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

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

class FindingPart {
 public:
  FindingPart(const LogPart& log, const ValueText& text, Document& doc)
      : log_(log), text_(text), doc_(doc) {}

  void write(const NumberedFinding& numbered) {
    const FindingReport& f = *numbered.finding;
    doc_.put(
        "<article class=\"finding {}\" id=\"{}\"><header><p class=\"kicker\">"
        "<span class=\"no\">F{}</span> {}",
        f.finding.severity == Severity::urgent      ? "urgent"
        : f.finding.severity == Severity::attention ? "attention"
                                                    : "note",
        log_.id_of(numbered), numbered.number, badge(f.finding.severity));
    if (numbered.run != nullptr) {
      doc_.put(" <a href=\"#{}\">{}</a>", log_.id_of(*numbered.run),
               name_of_run(*numbered.run));
    } else {
      doc_.put(" about the log itself");
    }
    doc_.put("</p><h3>{}</h3><p class=\"lead\">{}.</p></header>",
             safe(f.check->info->title), safe(summary_of(f, text_), 800));
    picture(numbered);
    doc_.put("<dl><div><dt>When</dt><dd>{}</dd></div>",
             safe(when_of(f, text_)));
    if (f.caused_by != nullptr) {
      doc_.put("<div><dt>Follows from</dt><dd>{}</dd></div>",
               safe(f.caused_by->info->title));
    }
    const std::vector<std::string> evidence = evidence_of(f, text_);
    list("Evidence", "ul", evidence);
    list("Likely causes", "ol", f.check->advice->causes);
    list("Check next", "ol", f.check->advice->next);
    const std::string caution = caution_of(f);
    if (!caution.empty()) {
      doc_.put(
          "<div class=\"caution\"><dt><span aria-hidden=\"true\">&#9888;"
          "</span> Caution</dt><dd>{}</dd></div>",
          safe(caution, 4000));
    }
    doc_.put(
        "<div class=\"source\"><dt>Limit by</dt><dd>{} "
        "<code>{}</code></dd></div></dl></article>\n",
        safe(source_of(f), 800), safe(f.check->info->slug));
  }

 private:
  template <class Texts>
  void list(std::string_view name, std::string_view tag, const Texts& texts) {
    bool any = false;
    for (const std::string_view item : texts) {
      if (item.empty()) continue;
      if (!any) doc_.put("<div><dt>{}</dt><dd><{}>", name, tag);
      any = true;
      doc_.put("<li>{}</li>", safe(item, 800));
    }
    if (any) doc_.put("</{}></dd></div>", tag);
  }

  void picture(const NumberedFinding& numbered) {
    const FindingReport& f = *numbered.finding;
    const Picture* source = f.close_up.get();
    if ((source == nullptr || source->empty()) && numbered.run != nullptr &&
        numbered.run->picture != nullptr) {
      source = &numbered.run->picture->overview;
    }
    if (source == nullptr || source->empty() || doc_.detail.svg_columns == 0) {
      doc_.put("<p class=\"quiet\">No picture: nothing was drawn for it.</p>");
      return;
    }
    const Picture drawn = thinned(*source, doc_.detail.svg_columns);
    const std::optional<std::size_t> track = main_track(f, drawn);
    if (!track) return;
    chart(numbered, drawn, *track, false);
    if (*track != kLoadTrack && drawn.has(kLoadTrack)) {
      chart(numbered, drawn, kLoadTrack, true);
    }
  }

  void chart(const NumberedFinding& numbered, const Picture& drawn,
             std::size_t track, bool beneath) {
    const FindingReport& f = *numbered.finding;
    TimeChart chart;
    chart.picture = &drawn;
    chart.track = track;
    chart.from = drawn.from();
    chart.to = drawn.to();
    chart.ahead = is_set(f.from.logged) && is_set(f.finding.since)
                      ? f.from.logged - f.finding.since
                      : DurationMs{};
    chart.low = beneath;
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
    chart.windows.push_back({f.finding.since,
                             std::max(f.finding.since, f.finding.until),
                             fmt::format("F{}", numbered.number)});
    const bool same_unit =
        track == kLoadTrack
            ? f.finding.unit == Unit::pct
            : info_of(static_cast<Channel>(track)).unit == f.finding.unit;
    if (!beneath && same_unit && std::isfinite(f.finding.limit)) {
      chart.limit = shown_on_track(f.finding.limit, track, text_);
      chart.limit_label =
          fmt::format("limit {}", text_.say(f.finding.limit, f.finding.unit,
                                            track == kLoadTrack
                                                ? Channel::none
                                                : static_cast<Channel>(track)));
    }
    doc_.put(
        "<figure class=\"picture{}\"><figcaption>{} <span>{}</span>"
        "</figcaption>",
        beneath ? " beneath" : "", safe(title_of_track(track)), safe(unit));
    chart.draw(text_, doc_.out());
    doc_.put("</figure>");
  }

  const LogPart& log_;
  const ValueText& text_;
  Document& doc_;
};

}  // namespace

std::vector<NumberedFinding> number_findings(const HealthReport& report) {
  std::vector<NumberedFinding> all;
  for (const RunReport& run : report.runs) {
    for (const FindingReport& f : run.findings) all.push_back({&f, &run, 0});
  }
  for (const FindingReport& f : report.findings) {
    all.push_back({&f, nullptr, 0});
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const NumberedFinding& a, const NumberedFinding& b) {
                     return a.finding->finding.severity >
                            b.finding->finding.severity;
                   });
  int number = 0;
  for (NumberedFinding& f : all) f.number = ++number;
  return all;
}

void write_findings(const LogPart& log, const ValueText& text, Document& doc) {
  if (log.findings.empty()) {
    doc.put("<p>Nothing was found in what could be checked.</p>");
    return;
  }
  FindingPart part(log, text, doc);
  for (const NumberedFinding& f : log.findings) part.write(f);
}

}  // namespace telltale::host
