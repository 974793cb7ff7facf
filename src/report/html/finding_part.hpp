// The findings of one log, each with its picture.
#pragma once

#include "report/html/document.hpp"

namespace telltale::host {

/// Gravest first over all runs, then as the log tells them.
std::vector<NumberedFinding> number_findings(const HealthReport& report);

void write_findings(const LogPart& log, const ValueText& text, Document& doc);

}  // namespace telltale::host
