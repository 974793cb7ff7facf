#include "season/own_oil_line.hpp"

#include <algorithm>
#include <cmath>

#include "season/follow.hpp"
#include "season/reference.hpp"
#include "telltale/condition/median.hpp"
#include "telltale/condition/oil_viscosity.hpp"

namespace telltale::host::season {
namespace {

constexpr double kStepFalseAlarm = 0.01;
constexpr double kHolds = 0.03;  // of the line
constexpr FigureKind kKind = FigureKind::hot_oil_pressure;

double median_of(std::vector<double> x) {
  return median_in_place(std::span<double>(x));
}

/// The runs that the line is of.
std::vector<PastFigure> baseline(const UnitHistory& history,
                                 const FigureFollow& followed) {
  std::uint32_t from = 0;
  for (const LevelChange& change : followed.changes) {
    if (change.after > change.before) from = change.run;
  }
  std::vector<PastFigure> out;
  for (const PastFigure& f : history.of(kKind)) {
    if (f.run < from || f.basis != followed.basis) continue;
    if (out.size() == kMostLineRuns) break;
    out.push_back(f);
  }
  return out;
}

/// Sets the temperatures that the line holds for, from the hot end down.
std::optional<Error> find_range(Database& db, std::int64_t first_run,
                                std::int64_t last_run, std::int64_t unit,
                                const OilLine& at_nominal, OilLine& line) {
  const std::vector<FieldValue> which = {
      unit, std::int64_t{line.by_coolant ? 1 : 0}, first_run, last_run};
  auto rows = db.query(
      "SELECT SUM(bin.seconds * bin.degc) / SUM(bin.seconds), "
      "SUM(bin.seconds * bin.oil_pressure) / SUM(bin.seconds) "
      "FROM run JOIN temperature_bin AS bin ON bin.run_id = run.id "
      "WHERE run.unit_id = $1 AND bin.by_coolant = $2 "
      "AND run.start_ms >= $3 AND run.start_ms <= $4 "
      "GROUP BY bin.from_degc ORDER BY bin.from_degc DESC",
      which);
  if (!rows) return rows.error();
  bool holds = true;
  bool any = false;
  while ((*rows)->next()) {
    const double degc = (*rows)->number(0);
    const double kpa = (*rows)->number(1);
    const double said =
        static_cast<double>(at_nominal.intercept_kpa) +
        static_cast<double>(at_nominal.slope_kpa) * log_viscosity(degc);
    const bool fits = std::abs(kpa - said) <= kHolds * said;
    if (!any && !fits) continue;  // hotter than the figures are of
    holds = holds && fits;
    if (!holds) continue;
    if (!any) line.high_degc = static_cast<float>(degc);
    line.low_degc = static_cast<float>(degc);
    any = true;
  }
  line.known = any;
  return (*rows)->trouble();
}

}  // namespace

Result<OilLine> own_oil_line(Database& db, const UnitHistory& history) {
  OilLine line;
  const UnitHistory* const one = &history;
  const FigureFollow followed =
      follow_figure(history, kKind, references_of({&one, 1}), kStepFalseAlarm);
  const std::vector<PastFigure> runs = baseline(history, followed);
  const Prior slope = pooled_slope(history.of(kKind));
  if (runs.size() < kLeastLineRuns || !std::isfinite(slope.sd)) return line;
  std::vector<double> at_zero;
  std::vector<double> speed;
  for (const PastFigure& f : runs) {
    at_zero.push_back(f.value - slope.mean * log_viscosity(f.at));
    const double settled = history.runs[f.run].first_speed;
    if (std::isfinite(settled)) speed.push_back(settled);
  }
  line.by_coolant = followed.basis == Basis::coolant;
  line.intercept_kpa = static_cast<float>(median_of(std::move(at_zero)));
  line.slope_kpa = static_cast<float>(slope.mean);
  const OilLine at_nominal = line;
  // The figures are at nominal speed; the check goes by the speed that the set
  // settles at after its start.
  const auto at_start =
      static_cast<float>(speed.empty() ? 1.0 : median_of(std::move(speed)));
  line.intercept_kpa *= at_start;
  line.slope_kpa *= at_start;
  if (auto error = find_range(db, history.runs[runs.front().run].start.ms,
                              history.runs[runs.back().run].start.ms,
                              history.unit.id, at_nominal, line)) {
    return *error;
  }
  return line;
}

}  // namespace telltale::host::season
