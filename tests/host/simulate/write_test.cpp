#include "simulate/write.hpp"

#include "catch.hpp"
#include "simulate/presets.hpp"
#include "simulate/truth/truth_writer.hpp"

namespace telltale::host::sim {
namespace {

struct Written {
  std::string log;
  std::string truth;
  Truth facts;
};

Written written(const Scenario& scenario) {
  Written out;
  Scenario ran;
  const auto facts = write_log(
      scenario,
      [&out](std::string_view bytes) {
        out.log += bytes;
        return true;
      },
      &out.facts, &ran);
  REQUIRE(facts);
  CHECK(facts->rows == out.facts.rows);
  out.truth = truth_json(out.facts, ran);
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

TEST_CASE("every preset runs and is healthy by the contract's limits") {
  for (const PresetInfo& preset : presets()) {
    INFO(preset.name);
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
      const Truth truth = truth_of(*preset_scenario(preset.name, seed));
      REQUIRE(truth.runs.size() == 1);
      const TrueRun& run = truth.runs.front();
      for (const Verdict& verdict : run.verdicts) INFO(verdict.check);
      CHECK(run.verdicts.empty());
      CHECK(run.attempts == 1);
      CHECK(run.begins_in_log);
      CHECK(run.ends_in_log);
      CHECK_FALSE(run.abrupt);
    }
  }
}

TEST_CASE("a sink that refuses is an error") {
  CHECK_FALSE(write_log(*preset_scenario("split-8", 1, 600.0),
                        [](std::string_view) { return false; }));
}

}  // namespace
}  // namespace telltale::host::sim
