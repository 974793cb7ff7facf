// The readings behind the charts, for the script in the page.
#pragma once

#include "report/html/document.hpp"

namespace telltale::host {

/// Appends one JSON object for a run that has a picture; the text is safe
/// inside <script>: it holds no '<'.
void write_chart_data(const LogPart& log, const RunReport& run,
                      const ValueText& text, Document& doc);

}  // namespace telltale::host
