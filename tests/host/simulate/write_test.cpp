#include "simulate/write.hpp"

#include "catch.hpp"
#include "simulate/presets.hpp"
#include "simulate/truth/truth_writer.hpp"

namespace telltale::host::sim {
namespace {

struct Written {
  std::string log;
  std::string truth;
};

Written written(const Scenario& scenario) {
  Written out;
  std::vector<SetTruth> truth;
  const auto facts = write_log(
      scenario,
      [&out](std::string_view bytes) {
        out.log += bytes;
        return true;
      },
      &truth);
  REQUIRE(facts);
  REQUIRE(truth.size() == 1);
  CHECK(facts->rows == truth.front().truth.rows);
  out.truth = write_truth(truth);
  return out;
}

TEST_CASE("the same seed gives the same bytes, another seed others") {
  const auto scenario = [](std::uint64_t seed) {
    return *preset_scenario("split-8", seed, 900.0);
  };
  const Written first = written(scenario(5));
  CHECK(written(scenario(5)).log == first.log);
  CHECK(written(scenario(5)).truth == first.truth);
  CHECK(written(scenario(6)).log != first.log);
}

TEST_CASE("a sink that refuses is an error") {
  CHECK_FALSE(write_log(*preset_scenario("split-8", 1, 600.0),
                        [](std::string_view) { return false; }));
}

}  // namespace
}  // namespace telltale::host::sim
