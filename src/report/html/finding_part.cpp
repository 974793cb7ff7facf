#include "report/html/finding_part.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "report/html/finding_pictures.hpp"
#include "report/phrases.hpp"

namespace telltale::host {
namespace {

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
    doc_.put(" {}", about(numbered));
    doc_.put("</p><h3>{}</h3><p class=\"lead\">{}.</p></header>",
             safe(f.check->info->title), safe(summary_of(f, text_), 800));
    doc_.put("<div class=\"seen\"><div class=\"pictures\">");
    write_finding_pictures(log_, numbered, text_, doc_);
    doc_.put("</div><dl><div><dt>When</dt><dd>{}</dd></div>",
             safe(when_of(f, text_)));
    if (f.caused_by != nullptr) {
      doc_.put("<div><dt>Follows from</dt><dd>{}</dd></div>",
               safe(f.caused_by->info->title));
    }
    const std::vector<std::string> evidence = evidence_of(f, text_);
    list("Evidence", "ul", evidence);
    doc_.put("</dl></div><dl>");
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

  /// In a line.
  void write_brief(const NumberedFinding& numbered) {
    const FindingReport& f = *numbered.finding;
    doc_.put(
        "<li id=\"{}\"><span class=\"no\">F{}</span> {} {}: {}. <span "
        "class=\"quiet\">{}</span></li>\n",
        log_.id_of(numbered), numbered.number, badge(f.finding.severity),
        about(numbered), safe(summary_of(f, text_), 800),
        safe(when_of(f, text_)));
  }

 private:
  /// The run it belongs to.
  [[nodiscard]] std::string about(const NumberedFinding& numbered) const {
    if (numbered.run == nullptr) return "about the log itself";
    const std::string name = name_of_run(*numbered.run);
    if (doc_.plan.of(*numbered.run) != Showing::full) return name;
    return fmt::format("<a href=\"#{}\">{}</a>", log_.id_of(*numbered.run),
                       name);
  }
  template <class Texts>
  void list(std::string_view name, std::string_view tag, const Texts& texts) {
    bool any = false;
    for (const std::string_view item : texts) {
      if (item.empty()) continue;
      if (!any) doc_.put("<div><dt>{}</dt><dd><{}>", name, tag);
      any = true;
      doc_.put("<li>{}</li>", safe(in_print(item), 800));
    }
    if (any) doc_.put("</{}></dd></div>", tag);
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
  std::size_t brief = 0;
  std::size_t left_out = 0;
  for (const NumberedFinding& f : log.findings) {
    const Showing how = doc.plan.of(*f.finding);
    if (how == Showing::full) part.write(f);
    if (how == Showing::brief) ++brief;
    if (how == Showing::left_out) ++left_out;
  }
  if (brief > 0) {
    doc.put("<h3>In brief</h3><ul class=\"brief\">");
    for (const NumberedFinding& f : log.findings) {
      if (doc.plan.of(*f.finding) == Showing::brief) part.write_brief(f);
    }
    doc.put("</ul>");
  }
  if (left_out > 0) {
    doc.put("<p>And {} more; the JSON report has all.</p>", left_out);
  }
}

}  // namespace telltale::host
