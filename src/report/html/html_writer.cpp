#include "report/html/html_writer.hpp"

#include <algorithm>
#include <deque>
#include <string>
#include <vector>

#include "report/html/chart_data.hpp"
#include "report/html/document.hpp"
#include "report/html/embedded.hpp"
#include "report/html/finding_part.hpp"
#include "report/html/run_part.hpp"
#include "report/html/run_tables.hpp"
#include "summary/run_picture.hpp"

namespace telltale::host {
namespace {

/// Bytes that pictures may take, about: SVG and the data behind it.
constexpr std::size_t kSvgBytes = 1'300'000;
constexpr std::size_t kDataBytes = 1'100'000;
constexpr std::size_t kBytesOfColumn = 13;  // of one track
constexpr std::size_t kFewestColumns = 24;

bool has_picture(const RunReport& run) {
  return run.picture && !run.picture->overview.empty();
}

std::size_t tracks_of(const Picture& picture) {
  std::size_t n = 0;
  for (std::size_t i = 0; i < kTrackCount; ++i) n += picture.has(i) ? 1 : 0;
  return n;
}

/// As fine as the number of charts allows.
Detail detail_for(std::span<const HealthReport> reports) {
  std::size_t tracks = 0;
  std::size_t close_ups = 0;
  for (const HealthReport& report : reports) {
    close_ups += report.findings.size();
    for (const RunReport& run : report.runs) {
      close_ups += run.findings.size();
      if (has_picture(run)) tracks += tracks_of(run.picture->overview);
    }
  }
  Detail detail;
  const std::size_t svg =
      kSvgBytes / kBytesOfColumn / (tracks + 2 * close_ups + 1);
  const std::size_t data = kDataBytes / kBytesOfColumn / (tracks + 1);
  detail.svg_columns =
      svg < kFewestColumns ? 0 : std::min<std::size_t>(svg, 360);
  detail.data_columns =
      data < kFewestColumns ? 0 : std::min<std::size_t>(data, 1200);
  return detail;
}

class HtmlReport {
 public:
  HtmlReport(std::span<const HealthReport> reports, UnitSystem units,
             fmt::memory_buffer& out)
      : doc_(out, units, detail_for(reports)) {
    int n = 0;
    for (const HealthReport& report : reports) {
      logs_.push_back(
          {&report, fmt::format("l{}", ++n), number_findings(report)});
      texts_.emplace_back(units, report.layout);
    }
  }

  void write() {
    head();
    if (logs_.size() > 1) index();
    doc_.put("<main id=\"main\">\n");
    for (std::size_t i = 0; i < logs_.size(); ++i) log(logs_[i], texts_[i]);
    doc_.put("</main>\n");
    foot();
  }

 private:
  void head() {
    const std::string title =
        logs_.size() == 1
            ? "Health report of " +
                  safe(base_name(logs_[0].report->layout.file), 120)
            : fmt::format("Health reports of {} logs", logs_.size());
    // Nothing may load, nothing may run but the script of that hash.
    doc_.put(
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
        "<meta http-equiv=\"Content-Security-Policy\" content=\""
        "default-src 'none'; script-src '{}'; style-src '{}'; "
        "base-uri 'none'; form-action 'none'\">"
        "<meta name=\"viewport\" content=\"width=device-width, "
        "initial-scale=1\"><meta name=\"color-scheme\" "
        "content=\"light dark\"><meta name=\"referrer\" "
        "content=\"no-referrer\"><title>{}</title><style>{}</style>"
        "</head>\n<body><a class=\"skip\" href=\"#main\">Skip to the "
        "report</a>\n<header class=\"page\"><p class=\"mast\">telltale "
        "health report</p></header>\n",
        embedded::script_hash(), embedded::style_hash(), title,
        embedded::style());
  }

  void index() {
    doc_.put(
        "<nav class=\"index\" aria-labelledby=\"index-h\">"
        "<h2 id=\"index-h\">{} logs</h2><ul>",
        logs_.size());
    for (const LogPart& log : logs_) {
      doc_.put(
          "<li>{} <a href=\"#{}\">{}</a> <span class=\"quiet\">{} run{}, "
          "{} finding{}</span></li>",
          badge(log.report->verdict()), log.id,
          safe(base_name(log.report->layout.file), 120),
          log.report->runs.size(), log.report->runs.size() == 1 ? "" : "s",
          log.findings.size(), log.findings.size() == 1 ? "" : "s");
    }
    doc_.put("</ul></nav>\n");
  }

  void log(const LogPart& log, const ValueText& text) {
    const HealthReport& report = *log.report;
    doc_.put(
        "<article class=\"log\" id=\"{0}\" aria-labelledby=\"{0}-h\">"
        "<h1 id=\"{0}-h\">{1}</h1><p class=\"facts\">{2} rows",
        log.id, safe(base_name(report.layout.file), 160),
        grouped(static_cast<double>(report.tally.rows), 0));
    if (report.first && report.last) {
      doc_.put(", {} to {}", safe(text.stamp(*report.first)),
               safe(text.stamp(*report.last)));
    }
    doc_.put("</p>");
    verdicts(log, text);
    doc_.put(
        "<section class=\"findings\" id=\"{0}-findings\" "
        "aria-labelledby=\"{0}-fh\"><h2 id=\"{0}-fh\">Findings, gravest "
        "first</h2>",
        log.id);
    write_findings(log, text, doc_);
    doc_.put("</section>\n");
    for (const RunReport& run : report.runs) write_run(log, run, text, doc_);
    doc_.put(
        "<section id=\"{0}-read\" aria-labelledby=\"{0}-rh\"><h2 "
        "id=\"{0}-rh\">How the log was read</h2>",
        log.id);
    write_reading(report, doc_);
    doc_.put(
        "</section>\n<section id=\"{0}-not\" aria-labelledby=\"{0}-nh\">"
        "<h2 id=\"{0}-nh\">What was not checked, and why</h2>",
        log.id);
    write_not_checked(report, doc_);
    doc_.put("</section></article>\n");
  }

  void verdicts(const LogPart& log, const ValueText& text) {
    const HealthReport& report = *log.report;
    doc_.put(
        "<section class=\"verdicts\" aria-labelledby=\"{0}-vh\"><h2 "
        "id=\"{0}-vh\">Verdict</h2>",
        log.id);
    if (report.runs.empty()) {
      doc_.put("<p>No run in this log.</p></section>");
      return;
    }
    doc_.put(
        "<div class=\"scroll\" tabindex=\"0\" role=\"region\" "
        "aria-label=\"Verdict per run\"><table><thead><tr>"
        "<th scope=\"col\">Run</th><th scope=\"col\">Verdict</th>"
        "<th scope=\"col\">Ran for</th><th scope=\"col\">From</th>"
        "<th scope=\"col\">Findings</th></tr></thead><tbody>");
    for (const RunReport& run : report.runs) {
      doc_.put(
          "<tr><th scope=\"row\"><a href=\"#{}\">{}</a></th>"
          "<td class=\"word\">{}</td><td>{}</td><td>{}</td>"
          "<td class=\"word\">",
          log.id_of(run), name_of_run(run), badge(run.verdict),
          run.seconds > 0 ? duration_text(run.seconds) : "no start",
          safe(text.stamp(run.start.logged)));
      bool first = true;
      for (const NumberedFinding& f : log.findings) {
        if (f.run != &run) continue;
        doc_.put("{}<a href=\"#{}\">F{} {}</a>", first ? "" : ", ",
                 log.id_of(f), f.number, safe(f.finding->check->info->title));
        first = false;
      }
      doc_.put("{}</td></tr>", first ? "none" : "");
    }
    doc_.put("</tbody></table></div></section>\n");
  }

  void foot() {
    doc_.put(
        "<footer><p>Advice from a log, not a survey: the maker's manual "
        "and the person on the spot come first.</p><details><summary>"
        "Charts drawn with dygraphs: licence</summary><pre>{}</pre>"
        "</details></footer>\n<script type=\"application/json\" "
        "id=\"telltale-data\">[",
        html(embedded::licence()));
    bool first = true;
    for (std::size_t i = 0; i < logs_.size(); ++i) {
      if (doc_.detail.data_columns == 0 || doc_.detail.svg_columns == 0) break;
      for (const RunReport& run : logs_[i].report->runs) {
        if (!has_picture(run)) continue;
        if (!first) doc_.put(",\n");
        first = false;
        write_chart_data(logs_[i], run, texts_[i], doc_);
      }
    }
    doc_.put("]</script>\n<script>");
    for (const std::string_view piece : embedded::script()) {
      doc_.put("{}", piece);
    }
    doc_.put("</script></body></html>\n");
  }

  Document doc_;
  std::vector<LogPart> logs_;
  std::deque<ValueText> texts_;
};

}  // namespace

void write_html(std::span<const HealthReport> reports, UnitSystem units,
                fmt::memory_buffer& out) {
  HtmlReport(reports, units, out).write();
}

}  // namespace telltale::host
