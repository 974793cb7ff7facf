// Pages of made logs, and what tests look for in them.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "catch.hpp"
#include "made_log.hpp"
#include "report/html/html_writer.hpp"
#include "session/session.hpp"
#include "temp_file.hpp"

namespace telltale::test {

/// The health report of logs, each given as CSV.
inline std::string page_of(
    const std::vector<std::string>& logs,
    host::UnitSystem units = host::UnitSystem::as_logged) {
  host::PictureStore pictures;
  host::SessionOptions options;
  options.profile = stated_by(Plate{});
  options.pictures = &pictures;
  options.alarms = true;
  std::vector<host::HealthReport> reports;
  for (const std::string& log : logs) {
    const TempFile file(log);
    auto report = host::examine(file.path(), options);
    REQUIRE(static_cast<bool>(report));
    reports.push_back(std::move(*report));
  }
  fmt::memory_buffer out;
  host::write_html(reports, units, out);
  return {out.data(), out.size()};
}

inline std::size_t count(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos;
       at = text.find(what, at + what.size())) {
    ++n;
  }
  return n;
}

/// What is ours to write: without the embedded script.
inline std::string without_script(const std::string& page) {
  return page.substr(0, page.rfind("<script>"));
}

/// What stands between two marks after `from`.
inline std::string between(const std::string& text, const std::string& begin,
                           const std::string& end, std::size_t from = 0) {
  const std::size_t a = text.find(begin, from);
  if (a == std::string::npos) return {};
  const std::size_t b = a + begin.size();
  return text.substr(b, text.find(end, b) - b);
}

}  // namespace telltale::test
