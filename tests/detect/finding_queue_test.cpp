#include "telltale/detect/finding_queue.hpp"

#include "catch.hpp"

namespace telltale {

TEST_CASE("findings wait in order, the oldest are lost and counted") {
  FindingQueue<float, 3> queue;
  const FindingSink<float> sink = queue.sink();
  Finding<float> finding;
  CHECK(!queue.pop(finding));
  for (std::uint16_t i = 1; i <= 5; ++i) {
    finding.check = i;
    sink(finding);
  }
  CHECK(queue.size() == 3);
  CHECK(queue.lost() == 2);
  for (std::uint16_t i = 3; i <= 5; ++i) {
    REQUIRE(queue.pop(finding));
    CHECK(finding.check == i);
  }
  CHECK(!queue.pop(finding));
}

}  // namespace telltale
