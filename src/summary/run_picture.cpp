#include "summary/run_picture.hpp"

#include <algorithm>
#include <utility>

#include "telltale/condition/oil_viscosity.hpp"

namespace telltale::host {

void ClockMap::set(TimeMs at, TimeMs logged) {
  const std::int64_t ahead = (logged - at).ms;
  if (!pieces_.empty() && pieces_.back().ahead_ms == ahead) return;
  pieces_.push_back({at, ahead});
}

TimeMs ClockMap::logged(TimeMs at) const {
  std::int64_t ahead = pieces_.empty() ? 0 : pieces_.front().ahead_ms;
  for (const Piece& piece : pieces_) {
    if (piece.from > at) break;
    ahead = piece.ahead_ms;
  }
  return at + DurationMs{ahead};
}

TimeMs ClockMap::analysis(TimeMs logged) const {
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    const TimeMs at = logged - DurationMs{pieces_[i].ahead_ms};
    if (i + 1 == pieces_.size() || at < pieces_[i + 1].from) {
      return i == 0 ? at : std::max(at, pieces_[i].from);
    }
  }
  return logged;
}

ClockMap ClockMap::between(TimeMs from, TimeMs to) const {
  ClockMap out;
  for (const Piece& piece : pieces_) {
    if (piece.from > to) break;
    if (piece.from <= from) out.pieces_.clear();
    out.pieces_.push_back(piece);
  }
  return out;
}

double OilPicture::expected(double celsius) const {
  if (!own.known) return learnt.expected(celsius);
  return static_cast<double>(own.intercept_kpa) +
         static_cast<double>(own.slope_kpa) * log_viscosity(celsius);
}

void DroopPicture::place_line() {
  std::vector<std::pair<double, double>> at_no_load;  // Hz, weight
  double all = 0.0;
  for (const PictureScatter::Cell& cell : cells.cells()) {
    const double hz = (cell.y.low + cell.y.high) / 2.0;
    const double load = (cell.x.low + cell.x.high) / 2.0;
    const auto weight = static_cast<double>(cell.readings);
    at_no_load.emplace_back(hz - hz_per_percent * load, weight);
    all += weight;
  }
  std::sort(at_no_load.begin(), at_no_load.end());
  double passed = 0.0;
  for (const auto& [hz, weight] : at_no_load) {
    passed += weight;
    hz_at_no_load = hz;
    if (passed * 2.0 >= all) return;
  }
}

}  // namespace telltale::host
