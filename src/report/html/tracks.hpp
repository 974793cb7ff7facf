// Tracks of a picture as people read them: title, unit, values as shown.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <string_view>

#include "report/value_text.hpp"
#include "summary/run_picture.hpp"

namespace telltale::host {

inline std::string_view title_of_track(std::size_t track) {
  return track == kLoadTrack ? std::string_view("load, as judged")
                             : kChannels[track].title;
}
inline std::string_view slug_of_track(std::size_t track) {
  return track == kLoadTrack ? std::string_view("load_judged")
                             : kChannels[track].slug;
}
inline std::string_view unit_of_track(std::size_t track,
                                      const ValueText& text) {
  return track == kLoadTrack
             ? std::string_view("%")
             : symbol_of(text.unit_of(static_cast<Channel>(track)));
}
/// Values to scale a run's chart by, canonical: those of settled running where
/// start and stop, from nothing to full, would press all else flat. Empty: all
/// of them.
inline Range scale_of_track(const RunPicture& run, std::size_t track) {
  const Range all = run.overview.range_of(track);
  Range settled = run.at_speed[track];
  // What came with a good reading is never pushed over the upper edge.
  settled.add(run.good[track].high);
  if (settled.empty() || all.empty()) return {};
  const float span =
      std::max(settled.high - settled.low, std::abs(settled.high) * 0.02F);
  return span < (all.high - all.low) * 0.5F ? settled : Range{};
}
inline double shown_on_track(double value, std::size_t track,
                             const ValueText& text) {
  return track == kLoadTrack ? value
                             : text.shown(value, static_cast<Channel>(track));
}

}  // namespace telltale::host
