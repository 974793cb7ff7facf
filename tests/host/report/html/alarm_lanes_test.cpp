// Lanes of the controller's alarms: each in its lane, at its time, named.
#include "report/html/alarm_lanes.hpp"

#include "made_page.hpp"

namespace telltale::test {
namespace {

/// A scan a second; the alarms of each as a mask.
host::Picture picture_of(const std::vector<AlarmMask>& masks) {
  host::Picture picture;
  for (std::size_t i = 0; i < masks.size(); ++i) {
    host::PictureColumn scan;
    scan.first = scan.last = TimeMs{1000 * static_cast<std::int64_t>(i)};
    scan.alarms = masks[i];
    picture.add(scan);
  }
  return picture;
}

std::string drawing_of(const host::Picture& picture,
                       const std::vector<std::string>& names) {
  static const host::LogLayout kNothingKnown;
  const host::AlarmLanes lanes{.picture = &picture,
                               .names = names,
                               .from = picture.from(),
                               .to = picture.to(),
                               .width = 108.0,
                               .left = 4.0,
                               .right = 104.0,
                               .id = "a"};
  fmt::memory_buffer out;
  lanes.draw(host::ValueText(host::UnitSystem::metric, kNothingKnown), out);
  return {out.data(), out.size()};
}

}  // namespace

TEST_CASE("alarm lanes: in the order they came, a bar for each time") {
  // The axis has 100 units for 100 s and begins at 4.
  std::vector<AlarmMask> masks(101, 0);
  for (std::size_t i = 20; i <= 30; ++i) masks[i] |= 0b10;
  for (std::size_t i = 40; i <= 45; ++i) masks[i] |= 0b11;
  const std::string svg = drawing_of(picture_of(masks), {"low", "high"});
  CHECK(svg.find(">high<") < svg.find(">low<"));
  CHECK(count(svg, "class=\"stands\"") == 3);
  CHECK(svg.find("x=\"24.0\" y=\"22\" width=\"10.0\"") != std::string::npos);
  CHECK(svg.find("x=\"44.0\" y=\"22\" width=\"5.0\"") != std::string::npos);
  CHECK(svg.find("x=\"44.0\" y=\"50\" width=\"5.0\"") != std::string::npos);
}

TEST_CASE("alarm lanes: a moment is seen, a name is text, none is forgotten") {
  std::vector<AlarmMask> masks(101, 0);
  masks[50] = ~AlarmMask{0};
  const std::string svg = drawing_of(picture_of(masks), {"<b>"});
  CHECK(svg.find("&lt;b&gt;") != std::string::npos);
  CHECK(svg.find("<b>") == std::string::npos);
  CHECK(svg.find("width=\"1.5\"") != std::string::npos);
  CHECK(count(svg, "class=\"stands\"") == host::AlarmLanes::kMostLanes);
  CHECK(svg.find("and 20 more") != std::string::npos);
}

TEST_CASE("alarm lanes: no alarm, nothing to draw") {
  const host::Picture picture = picture_of(std::vector<AlarmMask>(10, 0));
  CHECK(host::AlarmLanes{.picture = &picture}.bits().empty());
}

}  // namespace telltale::test
