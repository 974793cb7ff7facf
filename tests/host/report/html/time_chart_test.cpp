// A chart as a drawing: every extreme of every column is on the line, wherever
// it lies and however the values are scaled.
#include "report/html/time_chart.hpp"

#include <random>

#include "made_page.hpp"

namespace telltale::test {
namespace {

constexpr std::size_t kTrack = index_of(Channel::battery_voltage);

std::string drawing_of(const host::TimeChart& chart) {
  static const host::LogLayout kNothingKnown;
  fmt::memory_buffer out;
  chart.draw(host::ValueText(host::UnitSystem::metric, kNothingKnown), out);
  return {out.data(), out.size()};
}

/// Where the line goes, top and bottom, for each place along the axis.
struct Reach {
  double x;
  double top;
  double bottom;
};
std::vector<Reach> line_of(const std::string& svg) {
  const std::string path = between(svg, "<path class=\"line\" d=\"", "\"");
  std::vector<Reach> out;
  double y = 0.0;
  const char* at = path.c_str();
  const auto number = [&at] {
    char* end = nullptr;
    const double value = std::strtod(at, &end);
    at = end;
    return value;
  };
  while (*at != '\0') {
    const char command = *at++;
    if (command == 'h') {
      number();
      continue;
    }
    if (command == 'V') {
      y = number();
    } else {  // M or L
      const double x = number();
      y = number();
      if (out.empty() || out.back().x != x) out.push_back({x, y, y});
    }
    out.back().top = std::min(out.back().top, y);
    out.back().bottom = std::max(out.back().bottom, y);
  }
  return out;
}

}  // namespace

TEST_CASE("time chart: the line holds the extremes of every column") {
  std::mt19937 random(5);
  std::normal_distribution<float> volts(13.0F, 0.4F);
  host::Picture picture(200);
  for (int i = 0; i < 20'000; ++i) {
    host::PictureColumn scan;
    scan.first = scan.last = TimeMs{1000LL * i};
    scan.range[kTrack].add(i % 997 == 0
                               ? 17.0F + 0.001F * static_cast<float>(i / 997)
                               : volts(random));
    picture.add(scan);
  }
  host::TimeChart chart;
  chart.picture = &picture;
  chart.track = kTrack;
  chart.from = picture.from();
  chart.to = picture.to();
  chart.id = "c";
  const std::vector<Reach> line = line_of(drawing_of(chart));
  REQUIRE(line.size() == picture.columns().size());
  // Two columns give the scale; all others must then be where it says.
  const host::Range all = picture.range_of(kTrack);
  double top = 1e9;
  double bottom = -1e9;
  for (const Reach& r : line) {
    top = std::min(top, r.top);
    bottom = std::max(bottom, r.bottom);
  }
  for (std::size_t i = 0; i < line.size(); ++i) {
    const host::Range& range = picture.columns()[i].range[kTrack];
    const auto y = [&](float value) {
      return bottom - (value - all.low) / (all.high - all.low) * (bottom - top);
    };
    INFO(i);
    CHECK(std::abs(line[i].top - y(range.high)) < 0.16);
    CHECK(std::abs(line[i].bottom - y(range.low)) < 0.16);
  }
}

TEST_CASE("time chart: what lies beyond the scale is drawn at the edge") {
  host::Picture picture;
  for (int i = 0; i < 100; ++i) {
    host::PictureColumn scan;
    scan.first = scan.last = TimeMs{1000LL * i};
    scan.range[kTrack].add(i == 50 ? 99.0F : i < 10 ? 0.0F : 13.5F);
    picture.add(scan);
  }
  host::TimeChart chart;
  chart.picture = &picture;
  chart.track = kTrack;
  chart.from = picture.from();
  chart.to = picture.to();
  chart.id = "c";
  chart.scale.add(13.0F);
  chart.scale.add(14.0F);
  const std::vector<Reach> line = line_of(drawing_of(chart));
  REQUIRE(line.size() == 100);
  CHECK(line[50].top < line[49].top);
  CHECK(line[5].bottom > line[49].bottom);
  CHECK(line[50].top >= 0.0);
}

TEST_CASE("time chart: load steps within the stretch, and only these") {
  host::Picture picture;
  for (int i = 100; i < 200; ++i) {
    host::PictureColumn scan;
    scan.first = scan.last = TimeMs{1000LL * i};
    scan.range[kTrack].add(13.0F);
    picture.add(scan);
  }
  host::TimeChart chart;
  chart.picture = &picture;
  chart.track = kTrack;
  chart.from = picture.from();
  chart.to = picture.to();
  for (const int at : {50, 100, 150, 250}) {
    chart.steps.push_back(TimeMs{1000LL * at});
  }
  const std::string path =
      between(drawing_of(chart), "<path class=\"step\" d=\"", "\"");
  CHECK(count(path, "M") == 2);
}

}  // namespace telltale::test
