#include "report/html/verdict_part.hpp"

#include <algorithm>
#include <string>

namespace telltale::host {
namespace {

class VerdictPart {
 public:
  VerdictPart(const LogPart& log, const ValueText& text, Document& doc)
      : log_(log), text_(text), doc_(doc) {}

  void write() {
    const HealthReport& report = *log_.report;
    doc_.put("<section class=\"verdicts\"><h2>Verdict</h2>");
    if (report.runs.empty() && report.findings.empty()) {
      doc_.put("<p>{}</p></section>",
               report.shows_running
                   ? "No run in this log."
                   : "No column tells whether the engine turns: no run can be "
                     "judged.");
      return;
    }
    doc_.put("{}", headline(verdict_of(report)));
    doc_.put(
        "<div class=\"scroll\" tabindex=\"0\" role=\"group\" "
        "aria-label=\"Verdict per run\"><table><thead><tr>"
        "<th scope=\"col\">Run</th><th scope=\"col\" class=\"word\">Verdict"
        "</th><th scope=\"col\" class=\"word\">Findings</th></tr></thead>"
        "<tbody>");
    std::size_t left_out = 0;
    for (const RunReport& run : report.runs) {
      if (doc_.plan.of(run) == Showing::left_out) {
        ++left_out;
      } else {
        verdict(run);
      }
    }
    if (!report.findings.empty()) {
      Severity gravest = Severity::healthy;
      for (const FindingReport& f : report.findings) {
        gravest = worst(gravest, f.finding.severity);
      }
      doc_.put(
          "<tr><th scope=\"row\">the log itself</th><td class=\"word\">{}"
          "</td><td class=\"word\">",
          badge(gravest));
      findings_of(nullptr);
      doc_.put("</td></tr>");
    }
    doc_.put("</tbody></table></div>");
    shown_in_full(left_out);
    doc_.put("</section>\n");
  }

 private:
  void verdict(const RunReport& run) {
    const std::string name = name_of_run(run);
    doc_.put(
        "<tr><th scope=\"row\">{}<span class=\"quiet\">{}, {}</span></th>"
        "<td class=\"word\">{}</td><td class=\"word\">",
        doc_.plan.of(run) == Showing::full
            ? fmt::format("<a href=\"#{}\">{}</a>", log_.id_of(run), name)
            : name,
        safe(text_.stamp(run.start.logged)),
        run.seconds > 0 ? duration_text(run.seconds) : "no start",
        badge(run.verdict));
    findings_of(&run);
    doc_.put("</td></tr>");
  }
  /// Which runs the page leaves out to stay light.
  void shown_in_full(std::size_t left_out) {
    const HealthReport& report = *log_.report;
    const auto full = std::count_if(report.runs.begin(), report.runs.end(),
                                    [this](const RunReport& run) {
                                      return doc_.plan.of(run) == Showing::full;
                                    });
    if (static_cast<std::size_t>(full) == report.runs.size()) return;
    doc_.put("<p class=\"quiet\">");
    if (left_out > 0) {
      doc_.put("And {} more runs, none graver than these. ", left_out);
    }
    doc_.put(
        "To keep the page light, {} of {} runs are shown in full, gravest and "
        "latest first. A report on their part of the log shows the others; "
        "the JSON report has all.</p>",
        full, report.runs.size());
  }
  /// Links to the findings of a run; nullptr: to those of the log itself.
  void findings_of(const RunReport* run) {
    bool none = true;
    std::size_t left_out = 0;
    for (const NumberedFinding& f : log_.findings) {
      if (f.run != run) continue;
      none = false;
      if (doc_.plan.of(*f.finding) == Showing::left_out) {
        ++left_out;
        continue;
      }
      doc_.put("<a href=\"#{}\">F{} {}</a>", log_.id_of(f), f.number,
               safe(f.finding->check->info->title));
    }
    if (none) doc_.put("none");
    if (left_out > 0) doc_.put("and {} more", left_out);
  }

  const LogPart& log_;
  const ValueText& text_;
  Document& doc_;
};

}  // namespace

void write_verdicts(const LogPart& log, const ValueText& text, Document& doc) {
  VerdictPart(log, text, doc).write();
}

}  // namespace telltale::host
