#include "report/html/document.hpp"

namespace telltale::host {

std::string badge(Severity severity) {
  const std::string_view sign = severity == Severity::urgent      ? "&#9632;"
                                : severity == Severity::attention ? "&#9650;"
                                : severity == Severity::note      ? "&#9679;"
                                                                  : "&#10003;";
  const std::string_view word = severity == Severity::urgent      ? "urgent"
                                : severity == Severity::attention ? "attention"
                                : severity == Severity::note      ? "note"
                                                                  : "healthy";
  return fmt::format(
      "<span class=\"badge {0}\"><span aria-hidden=\"true\">{1}</span> "
      "{0}</span>",
      word, sign);
}

std::string name_of_run(const RunReport& run) {
  if (run.unit.empty()) return fmt::format("run {}", run.run);
  return fmt::format("{}, run {}", safe(run.unit, 40), run.run);
}

std::string when_of(const FindingReport& f, const ValueText& text) {
  std::string when = text.stamp(f.from.logged);
  if (f.to.line != 0 && f.to.logged != f.from.logged) {
    when += fmt::format(" to {}", text.stamp(f.to.logged));
  }
  if (f.from.line == 0) return when;
  return when + (f.to.line > f.from.line
                     ? fmt::format(" (lines {} to {})", f.from.line, f.to.line)
                     : fmt::format(" (line {})", f.from.line));
}

std::string_view base_name(std::string_view path) {
  const std::size_t slash = path.find_last_of("/\\");
  const std::string_view name =
      slash == std::string_view::npos ? path : path.substr(slash + 1);
  if (name == "-") return "standard input";
  return name.empty() ? path : name;
}

Picture thinned(const Picture& picture, std::size_t most) {
  Picture out = picture;
  while (out.columns().size() > most) out.coarsen();
  return out;
}

}  // namespace telltale::host
