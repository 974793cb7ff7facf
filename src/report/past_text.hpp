// A run beside its own past, as text.
#pragma once

#include "report/page.hpp"
#include "report/run_past.hpp"
#include "report/value_text.hpp"

namespace telltale::host {

void write_past(const RunPast& past, const ValueText& text, Page& page);

}  // namespace telltale::host
