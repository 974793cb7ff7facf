// What is told of a run in words and tables.
#pragma once

#include "report/html/document.hpp"

namespace telltale::host {

/// From when to when, and how it began and ended.
void write_run_facts(const RunReport& run, const ValueText& text,
                     Document& doc);
/// Acceptance sheet, figures, load steps.
void write_run_tables(const RunReport& run, const ValueText& text,
                      Document& doc);

}  // namespace telltale::host
