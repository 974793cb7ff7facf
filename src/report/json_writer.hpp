// The health report as JSON (contract section 8), canonical units.
#pragma once

#include <fmt/format.h>

#include <functional>
#include <string_view>

#include "report/health_report.hpp"
#include "support/threads.hpp"

namespace telltale::host {

/// Gets a text piece by piece.
using TextSink = std::function<void(std::string_view)>;

/// One object, pretty-printed, with a final line break. It is put run by run,
/// so that the text of a long log is never in memory as a whole.
void write_json(const HealthReport& report, const TextSink& put,
                Threads threads = Threads::one);
/// The same all at once.
void write_json(const HealthReport& report, fmt::memory_buffer& out);

}  // namespace telltale::host
