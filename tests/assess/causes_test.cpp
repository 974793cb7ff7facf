// Which finding follows from which: the trade's chains, and time in its order.
#include "telltale/assess/causes.hpp"

#include <vector>

#include "catch.hpp"
#include "judge.hpp"

namespace telltale {
namespace {

Finding<double> found(std::string_view slug, double from_min, double to_min) {
  Finding<double> out;
  out.check = test::id_of(slug);
  out.severity = Severity::attention;
  out.since = TimeMs{static_cast<std::int64_t>(from_min * 60000.0)};
  out.until = TimeMs{static_cast<std::int64_t>(to_min * 60000.0)};
  return out;
}
std::uint16_t cause(const Finding<double>& effect,
                    const std::vector<Finding<double>>& all) {
  return cause_of(effect, std::span<const Finding<double>>(all));
}

// Without raw water the exhaust heats first and the coolant minutes later.
TEST_CASE("causes: no raw water, then exhaust, then coolant") {
  const auto jump = found("exhaust-jump", 30, 31);
  const auto high = found("exhaust-high", 30.5, 40);
  const auto coolant = found("coolant-high", 36, 40);
  const std::vector<Finding<double>> all{jump, high, coolant};
  CHECK(cause(high, all) == jump.check);
  CHECK(cause(coolant, all) == jump.check);
  CHECK(cause(jump, all) == 0);
}

TEST_CASE("causes: nothing follows from what came after it") {
  const auto coolant = found("coolant-high", 10, 12);
  const auto jump = found("exhaust-jump", 30, 31);
  CHECK(cause(coolant, {coolant, jump}) == 0);
}

TEST_CASE("causes: nor from what was over long before") {
  const auto jump = found("exhaust-jump", 10, 11);
  const auto coolant = found("coolant-high", 200, 210);
  CHECK(cause(coolant, {jump, coolant}) == 0);
}

TEST_CASE("causes: a stop for want of fuel names the fuel") {
  const auto fuel = found("fuel-starvation", 50, 51);
  const auto stop = found("abrupt-stop", 51, 51);
  CHECK(cause(stop, {stop, fuel}) == fuel.check);
}

TEST_CASE("causes: an overload drags volts and winding with it") {
  const auto overload = found("overload", 10, 40);
  CHECK(cause(found("voltage-low", 10.5, 40), {overload}) == overload.check);
  CHECK(cause(found("winding-high", 45, 60), {overload}) == overload.check);
}

TEST_CASE(
    "causes: no check follows from itself, and no two from each other at "
    "once") {
  for (const CauseRule& rule : kCauseRules) {
    CHECK(rule.effect != rule.cause);
    CHECK(rule.lag > DurationMs{0});
  }
}

TEST_CASE(
    "causes: over-excitation replaces the general findings of its stretch") {
  const auto boost = found("over-excitation", 10, 12);
  CHECK(replaced_by(found("frequency-high", 10, 12), boost));
  CHECK(replaced_by(found("voltage-high", 10.1, 12.1), boost));
  CHECK(!replaced_by(found("voltage-high", 30, 32), boost));
  CHECK(!replaced_by(found("coolant-high", 10, 12), boost));
}

}  // namespace
}  // namespace telltale
