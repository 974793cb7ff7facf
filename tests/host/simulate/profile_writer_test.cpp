#include "simulate/profile_writer.hpp"

#include <toml++/toml.h>

#include "catch.hpp"
#include "simulate/presets.hpp"

namespace telltale::host::sim {
namespace {

// Read back with toml++: the file must be TOML, whatever we think of it.
TEST_CASE("a profile is TOML with the keys of the contract") {
  for (const PresetInfo& preset : presets()) {
    INFO(preset.name);
    const SetSpec set = preset_scenario(preset.name)->set;
    const toml::table profile = toml::parse(write_profile(set));
    CHECK(profile["unit"]["name"].value<std::string>() == set.name);
    const auto rating = profile["rating"];
    CHECK(rating["power_kw"].value<double>() == Approx(set.rating.power_kw));
    CHECK(rating["poles"].value<int>() == set.rating.poles);
    CHECK(rating["legs"].value<int>() == set.rating.legs);
    CHECK(rating["battery_v"].value<double>() == set.rating.battery_v);
    CHECK(rating["generator"].value<std::string>() ==
          (set.rating.asynchronous ? "asynchronous" : "synchronous"));
    CHECK(rating["class"].value<std::string>()->front() == 'G');
    for (const auto& [key, value] : *rating.as_table()) {
      CHECK((key == "frequency_hz" || key == "poles" || key == "power_kw" ||
             key == "voltage_v" || key == "legs" || key == "power_factor" ||
             key == "battery_v" || key == "generator" ||
             key == "winding_class" || key == "class" || key == "cooling" ||
             key == "exhaust"));
    }
    const auto oil = profile["service"]["oil"];
    CHECK(oil["every_h"].value<double>() == set.service.front().every_h);
    CHECK(oil["done_h"].value<double>() == Approx(set.service.front().done_h));
    CHECK(oil["done_on"].value<toml::date>());
  }
}

TEST_CASE("a set without a service plan has no such section") {
  SetSpec set;
  CHECK_FALSE(toml::parse(write_profile(set)).contains("service"));
}

}  // namespace
}  // namespace telltale::host::sim
