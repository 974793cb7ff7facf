// Many tests at once: the worked example of Benjamini and Hochberg.
#include "season/multiple_tests.hpp"

#include "catch.hpp"

namespace telltale::host::season {
namespace {

// Benjamini and Hochberg 1995, section 3.2 (values from memory): at 5 % the
// first four of fifteen hypotheses are rejected, by Bonferroni only three.
TEST_CASE("the myocardial-infarction example") {
  const std::vector<double> p = {0.0001, 0.0004, 0.0019, 0.0095, 0.0201,
                                 0.0278, 0.0298, 0.0344, 0.0459, 0.3240,
                                 0.4262, 0.5719, 0.6528, 0.7590, 1.0000};
  const std::vector<bool> yes = believable(p, 0.05);
  for (std::size_t i = 0; i < p.size(); ++i) CHECK(yes[i] == (i < 4));
}

TEST_CASE("order does not matter, and none is none") {
  const std::vector<bool> yes =
      believable(std::vector<double>{0.5, 0.0001, 0.9}, 0.05);
  CHECK(yes == std::vector<bool>{false, true, false});
  CHECK(believable({}, 0.05).empty());
}

}  // namespace
}  // namespace telltale::host::season
