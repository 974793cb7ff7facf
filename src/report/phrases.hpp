// Phrases: the sentences of a finding, filled with its figures.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "report/health_report.hpp"
#include "report/value_text.hpp"

namespace telltale::host {

/// The finding in one sentence.
std::string summary_of(const FindingReport& report, const ValueText& text);

/// One line an evidence figure, with the lines of the log where it can be
/// recomputed.
std::vector<std::string> evidence_of(const FindingReport& report,
                                     const ValueText& text);

/// The cautions that go with the work, as one paragraph; empty where none.
std::string caution_of(const FindingReport& report);

/// "exact", "lower" (a lower bound) or "not observable".
std::string_view bound_text(Bound bound);

/// "frequency recovery, load on" for "frequency_recovery_load_on".
std::string quantity_text(const AcceptanceQuantity& quantity);

/// A text of the core as people read it: the core's own are ASCII ("degC").
std::string in_print(std::string_view core_text);

/// Where the limit comes from.
std::string source_of(const FindingReport& report);

/// The limits in force for a check, in words: "attention > 63.0 Hz for 30 s".
std::string limits_text(const CheckCard& check, const Profile& profile,
                        const ValueText& text);

}  // namespace telltale::host
