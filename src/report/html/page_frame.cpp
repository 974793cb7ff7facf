#include "report/html/page_frame.hpp"

#include <iterator>

#include "report/html/embedded.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {

void PageFrame::open(fmt::memory_buffer& out) const {
  const std::string runs =
      script ? fmt::format("script-src '{}'; ", embedded::script_hash())
             : std::string();
  fmt::format_to(
      std::back_inserter(out),
      "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">"
      "<meta http-equiv=\"Content-Security-Policy\" content=\""
      "default-src 'none'; {}style-src '{}'; base-uri 'none'; "
      "form-action 'none'\"><meta name=\"viewport\" "
      "content=\"width=device-width, initial-scale=1\">"
      "<meta name=\"color-scheme\" content=\"light dark\">"
      "<meta name=\"referrer\" content=\"no-referrer\">"
      "<title>{}</title><style>{}</style></head>\n<body>"
      "<a class=\"skip\" href=\"#main\">Skip to the report</a>\n"
      "<header class=\"page\"><p class=\"mast\">telltale {}</p></header>\n",
      runs, embedded::style_hash(), html(printable(title)), embedded::style(),
      html(mast));
}

void PageFrame::open_foot(fmt::memory_buffer& out) {
  fmt::format_to(std::back_inserter(out),
                 "<footer><p>Advice from a log, not a survey: the maker's "
                 "manual and the person on the spot come first.</p>");
}

void PageFrame::close(fmt::memory_buffer& out) {
  fmt::format_to(std::back_inserter(out), "</body></html>\n");
}

std::string badge(Severity severity) {
  const std::string_view sign = severity == Severity::urgent      ? "&#9632;"
                                : severity == Severity::attention ? "&#9650;"
                                : severity == Severity::note      ? "&#9679;"
                                : severity == Severity::healthy   ? "&#10003;"
                                                                  : "?";
  return fmt::format(
      "<span class=\"badge {0}\"><span aria-hidden=\"true\">{1}</span> "
      "{0}</span>",
      name_of(severity), sign);
}

std::string_view meaning_of(Severity severity) {
  switch (severity) {
    case Severity::urgent:
      return "do not run it, or stop it, until somebody has looked at it";
    case Severity::attention:
      return "look at it before the next trip";
    case Severity::note:
      return "worth knowing; nothing to do before the next trip";
    case Severity::healthy:
      return "nothing was found in what could be checked";
    case Severity::not_judged:
      break;
  }
  return "nothing could be judged";
}

std::string headline(Severity severity) {
  return fmt::format("<p class=\"headline\">{}: {}.</p>\n", badge(severity),
                     meaning_of(severity));
}

std::string_view base_name(std::string_view path) {
  const std::size_t slash = path.find_last_of("/\\");
  const std::string_view name =
      slash == std::string_view::npos ? path : path.substr(slash + 1);
  if (name == "-") return "standard input";
  return name.empty() ? path : name;
}

}  // namespace telltale::host
