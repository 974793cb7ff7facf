#include "report/past_text.hpp"

#include <fmt/format.h>

#include <cmath>

namespace telltale::host {
namespace {

std::string said(double value, const FigurePast& f, const ValueText& text) {
  return std::isfinite(value) ? text.say(value, f.unit, f.channel) : "-";
}

/// Just the number, for the ends of an interval.
std::string bare(double value, const FigurePast& f, const ValueText& text) {
  const std::string whole = said(value, f, text);
  return whole.substr(0, whole.find(' '));
}

std::string date_of(TimeMs at, const ValueText& text) {
  return is_set(at) ? text.stamp(at).substr(0, 10) : std::string("no date");
}

void rows(const RunPast& past, const ValueText& text, Page& page) {
  page.line(fmt::format("  {}{:>12}{:>12}  {}", pad_right("", 19), "this run",
                        "run before", "usual, and where 95 % of runs lie"));
  for (const FigurePast& f : past.figures) {
    std::string usual = said(f.usual, f, text);
    if (std::isfinite(f.low)) {
      usual += fmt::format(" ({} to {})", bare(f.low, f, text),
                           bare(f.high, f, text));
    }
    page.line(fmt::format("  {}{}{}  {}{}", pad_right(f.title, 19),
                          pad_left(said(f.now, f, text), 12),
                          pad_left(said(f.last, f, text), 12), usual,
                          !f.unusual        ? ""
                          : f.now > f.usual ? "  HIGHER"
                                            : "  LOWER"));
  }
}

void service(const RunPast& past, const ValueText& text, Page& page) {
  std::string changes;
  bool seen = false;
  for (const FigurePast& f : past.figures) {
    seen = seen || std::isfinite(f.before_service);
    if (!f.service_told) continue;
    changes += fmt::format("{}{} {} to {}", changes.empty() ? "" : ", ",
                           f.title, bare(f.before_service, f, text),
                           said(f.after_service, f, text));
  }
  if (!seen) return;
  if (changes.empty()) changes = "nothing that matters";
  page.paragraph("  ",
                 fmt::format("service \"{}\" on {} changed: {}", past.service,
                             date_of(past.service_on, text), changes));
}

}  // namespace

void write_past(const RunPast& past, const ValueText& text, Page& page) {
  page.line();
  if (!past.why_not.empty()) {
    page.paragraph("Beside its own past: ", past.why_not);
    return;
  }
  page.line(fmt::format(
      "Beside its {} earlier run{} ({} to {}), at this run's condition",
      past.runs, past.runs == 1 ? "" : "s", date_of(past.first, text),
      date_of(past.last, text)));
  rows(past, text, page);
  service(past, text, page);
  if (past.own_oil_line) {
    page.line("  oil pressure was judged by this set's own line");
  }
}

}  // namespace telltale::host
