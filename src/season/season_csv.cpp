#include "season/season_csv.hpp"

#include <cmath>
#include <iterator>

#include "season/dates.hpp"
#include "season/season_phrases.hpp"
#include "support/safe_text.hpp"

namespace telltale::host::season {
namespace {

constexpr std::string_view kHeader =
    "unit,peers,figure,unit_of_measure,basis,runs,latest,latest_low,"
    "latest_high,slope_per_100h,slope_low,slope_high,p,certain,"
    "slope_per_month,limit,forecast,forecast_low_h,forecast_high_h,changes,"
    "last_change_at,before,after,peer_z,peer_rank,peer_of,stands_out\n";

std::string cell(double x) {
  return std::isfinite(x) ? fmt::format("{:.8g}", x) : std::string();
}

}  // namespace

void write_season_csv(const SeasonReport& report, fmt::memory_buffer& out) {
  out.append(kHeader.data(), kHeader.data() + kHeader.size());
  const auto to = std::back_inserter(out);
  for (const UnitSeason& unit : report.units) {
    for (const FigureFollow& f : unit.figures) {
      const FigureInfo& info = info_of(f.kind);
      const bool t = f.has_trend;
      const LevelChange* last = f.changes.empty() ? nullptr : &f.changes.back();
      fmt::format_to(
          to, "{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},",
          csv_cell(unit.name), csv_cell(unit.group), info.slug,
          telltale::host::name_of(as_log_unit(info.unit)), name_of(f.basis),
          f.runs, cell(f.latest.value), cell(f.latest.low), cell(f.latest.high),
          cell(t ? 100.0 * f.slope_h : kNone),
          cell(t ? 100.0 * f.slope_low : kNone),
          cell(t ? 100.0 * f.slope_high : kNone), cell(t ? f.p : kNone),
          t ? (f.certain && f.worthwhile ? "1" : "0") : "",
          cell(f.slope_month));
      fmt::format_to(to, "{},{},{},{},{},{},{},{},{},{},{},{}\n",
                     cell(f.forecast.limit), name_of(f.forecast.state),
                     cell(f.forecast.low), cell(f.forecast.high),
                     f.changes.size(),
                     last != nullptr ? iso_text(last->at, unit.zone_known) : "",
                     cell(last != nullptr ? last->before : kNone),
                     cell(last != nullptr ? last->after : kNone),
                     cell(f.peers.known ? f.peers.z : kNone),
                     f.peers.known ? fmt::format("{}", f.peers.rank) : "",
                     f.peers.known ? fmt::format("{}", f.peers.of) : "",
                     f.peers.known ? (f.peers.stands_out ? "1" : "0") : "");
    }
  }
}

}  // namespace telltale::host::season
