// One run in pictures and figures.
#pragma once

#include "report/html/document.hpp"

namespace telltale::host {

void write_run(const LogPart& log, const RunReport& run, const ValueText& text,
               Document& doc);

}  // namespace telltale::host
