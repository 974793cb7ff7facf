// Corpus: made-up logs with their truth, examined and compared.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "simulate/fault.hpp"

namespace telltale::tool {

/// One log of the corpus: healthy, or with one fault.
struct CorpusCase {
  std::uint64_t seed = 1;
  std::optional<host::sim::FaultKind> fault;
};

/// A finding that the truth does not call for.
struct FalseFinding {
  std::string check;
  std::string severity;
  std::string channel;
  std::string from;
};

/// How the examination of one log compares with its truth.
struct CaseResult {
  CorpusCase which;
  std::string error;       // the log could not be examined
  bool observable = true;  // the log can show the fault at all
  bool found = false;      // the fault's own check spoke
  bool severity_right = false;
  double delay_s = 0.0;  // reported start against the true one
  bool sudden = false;   // the fault came at once
  double running_h = 0.0;
  std::vector<FalseFinding> false_findings;  // attention and above
  std::vector<FalseFinding> false_notes;
};

/// Writes the log, its truth and its profile below `folder`, examines the log
/// and compares. Every other case is examined without its profile.
CaseResult examine_case(const CorpusCase& which, const std::string& folder);

/// The same over many cases on `threads` threads, in the order given.
std::vector<CaseResult> examine_corpus(const std::vector<CorpusCase>& cases,
                                       const std::string& folder,
                                       unsigned threads);

}  // namespace telltale::tool
