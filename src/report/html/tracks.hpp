// Tracks of a picture as people read them: title, unit, values as shown.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "report/value_text.hpp"
#include "summary/picture.hpp"

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
inline double shown_on_track(double value, std::size_t track,
                             const ValueText& text) {
  return track == kLoadTrack ? value
                             : text.shown(value, static_cast<Channel>(track));
}

}  // namespace telltale::host
