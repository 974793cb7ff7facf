// Axes: round ticks, labels that keep off one another.
#include "report/html/axis.hpp"

#include "made_page.hpp"

namespace telltale::test {

TEST_CASE("axis: ticks are 1, 2 or 5 times a power of ten, inside the axis") {
  for (const auto& [low, high] : {std::pair{0.0, 7.3},
                                  {59.71, 60.42},
                                  {1480.0, 1573.0},
                                  {-40.0, 120.0},
                                  {13.0, 13.0},
                                  {0.0, 0.0},
                                  {1e-3, 2e-3},
                                  {0.0, 123456.0}}) {
    const host::ValueAxis axis(low, high, 4);
    INFO(low << " to " << high);
    CHECK(axis.low <= low);
    CHECK(axis.high >= high);
    REQUIRE(axis.ticks.size() >= 2);
    CHECK(axis.ticks.size() <= 10);
    const double step = axis.ticks[1] - axis.ticks[0];
    double lead = step;
    while (lead < 0.999) lead *= 10.0;
    while (lead > 9.99) lead /= 10.0;
    CHECK((std::abs(lead - 1.0) < 1e-6 || std::abs(lead - 2.0) < 1e-6 ||
           std::abs(lead - 5.0) < 1e-6));
    for (const double tick : axis.ticks) {
      CHECK(tick >= axis.low);
      CHECK(tick <= axis.high);
      // The label says what it is.
      std::string label = axis.label(tick);
      std::erase(label, ',');
      CHECK(std::abs(std::stod(label) - tick) <= step * 1e-6);
    }
  }
}

TEST_CASE("axis: time labels do not touch, and stay inside") {
  const host::LogLayout layout;
  const host::ValueText text(host::UnitSystem::metric, layout);
  for (const std::int64_t seconds : {3, 90, 3'000, 90'000, 3'000'000}) {
    const double left = seconds % 2 == 0 ? 4.0 : 52.0;
    const host::TimeScale scale{TimeMs{0}, TimeMs{seconds * 1000}, left, 512.0};
    fmt::memory_buffer out;
    host::draw_time_axis(scale, {.wanted = 5}, text, out);
    const std::string svg(out.data(), out.size());
    INFO(seconds);
    REQUIRE(count(svg, "<text") >= 2);
    double free = 0.0;
    for (std::size_t at = svg.find("<text"); at != std::string::npos;
         at = svg.find("<text", at + 1)) {
      const double x = std::stod(between(svg, "x=\"", "\"", at));
      const std::string label = between(svg, ">", "<", at);
      // The widest type in use, on phones: 9 units a letter.
      const double half = 4.5 * static_cast<double>(label.size());
      CHECK(x - half >= free);
      CHECK(x + half <= 520.0);
      free = x + half;
    }
  }
}

}  // namespace telltale::test
