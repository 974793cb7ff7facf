#include "report/html/document.hpp"

namespace telltale::host {

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

Picture thinned(const Picture& picture, std::size_t most) {
  Picture out = picture;
  while (out.columns().size() > most) out.coarsen();
  return out;
}

}  // namespace telltale::host
