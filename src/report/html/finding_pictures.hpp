// The pictures of one finding.
#pragma once

#include "report/html/document.hpp"

namespace telltale::host {

/// The channel it is about with its limit, or the controller's alarms; the load
/// beneath; the window of the finding marked in each.
void write_finding_pictures(const LogPart& log, const NumberedFinding& numbered,
                            const ValueText& text, Document& doc);

}  // namespace telltale::host
