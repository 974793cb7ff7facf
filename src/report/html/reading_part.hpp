// How a log was read, and what could not be judged in it.
#pragma once

#include "report/html/document.hpp"

namespace telltale::host {

/// Columns, units, notes.
void write_reading(const HealthReport& report, Document& doc);
/// What was not checked in the runs of a log, and why.
void write_not_checked(const HealthReport& report, Document& doc);

}  // namespace telltale::host
