// Document: what the parts of an HTML report share while it is written.
#pragma once

#include <fmt/format.h>

#include <cstddef>
#include <iterator>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "report/health_report.hpp"
#include "report/html/page_frame.hpp"
#include "report/html/page_plan.hpp"
#include "report/value_text.hpp"
#include "summary/picture.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {

struct RunPicture;

/// A finding with its place in the document.
struct NumberedFinding {
  const FindingReport* finding = nullptr;
  const RunReport* run = nullptr;  // nullptr: about the log itself
  int number = 0;                  // within its log, from 1
};

/// One log's share of the document. All ids begin with `id`.
struct LogPart {
  const HealthReport* report = nullptr;
  std::string id;                                               // "a", "b", ...
  std::vector<NumberedFinding> findings;                        // by urgency
  std::unordered_map<const RunReport*, std::size_t> number_of;  // from 1

  [[nodiscard]] std::string id_of(const NumberedFinding& f) const {
    return fmt::format("{}-f{}", id, f.number);
  }
  [[nodiscard]] std::string id_of(const RunReport& run) const {
    return fmt::format("{}-r{}", id, number_of.at(&run));
  }
};

class Document {
 public:
  /// REQUIRES: `what` and `out` outlive the document.
  Document(fmt::memory_buffer& out, UnitSystem shown_in, const PagePlan& what)
      : plan(what), detail(what.detail()), units(shown_in), out_(&out) {}

  template <class... Args>
  void put(fmt::format_string<Args...> format, Args&&... args) {
    fmt::format_to(std::back_inserter(*out_), format,
                   std::forward<Args>(args)...);
  }
  [[nodiscard]] fmt::memory_buffer& out() { return *out_; }

  const PagePlan& plan;
  const Detail& detail;
  const UnitSystem units;

 private:
  fmt::memory_buffer* out_;
};

/// Text from a log or of our own, ready for HTML.
inline std::string safe(std::string_view text, std::size_t most = 400) {
  return html(printable(text, most));
}

/// Of all of a log; a log that shows no engine turning is not judged.
inline Severity verdict_of(const HealthReport& report) {
  const bool judged = report.shows_running || !report.findings.empty();
  return judged ? report.verdict() : Severity::not_judged;
}
/// "pump room, run 3".
std::string name_of_run(const RunReport& run);
/// The stamps and lines of a finding.
std::string when_of(const FindingReport& finding, const ValueText& text);
/// `picture` in at most so many columns.
Picture thinned(const Picture& picture, std::size_t most);

}  // namespace telltale::host
