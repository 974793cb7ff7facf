// The verdict of every run, and what it asks of the reader.
#pragma once

#include "report/html/document.hpp"

namespace telltale::host {

void write_verdicts(const LogPart& log, const ValueText& text, Document& doc);

}  // namespace telltale::host
