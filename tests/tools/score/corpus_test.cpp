// A small part of the corpus that telltale-score runs in full: every fault is
// found in a varied log, and no healthy set is accused.
#include "score/corpus.hpp"

#include "catch.hpp"
#include "temp_folder.hpp"

namespace telltale::tool {
namespace {

namespace sim = host::sim;

TEST_CASE("every fault of a small corpus is found where it shows") {
  const test::TempFolder folder;
  int observable = 0;
  for (const sim::FaultInfo& info : sim::fault_table()) {
    INFO(info.check);
    const CaseResult result = examine_case({1, info.kind}, folder.path());
    CHECK(result.error.empty());
    CHECK((result.found || !result.observable));
    observable += result.observable ? 1 : 0;
  }
  CHECK(observable > 45);
}

TEST_CASE("no set of a small healthy corpus is accused") {
  const test::TempFolder folder;
  double hours = 0;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    INFO("seed " << seed);
    const CaseResult result = examine_case({seed, std::nullopt}, folder.path());
    CHECK(result.error.empty());
    CHECK(result.false_findings.empty());
    hours += result.running_h;
  }
  CHECK(hours > 10.0);
}

}  // namespace
}  // namespace telltale::tool
