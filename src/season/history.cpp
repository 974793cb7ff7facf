#include "season/history.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>

#include "checks/catalogue.hpp"

namespace telltale::host::season {
namespace {

constexpr std::array<std::string_view, 10> kBasisNames = {
    "",    "oil", "coolant", "leg",     "line",
    "wet", "dry", "load",    "battery", "crank"};

Severity severity_of(std::string_view name) {
  Severity severity = Severity::healthy;
  (void)from_value(FieldValue{std::string(name)}, severity);
  return severity;
}

std::optional<Error> read_runs(Database& db, std::span<const FieldValue> which,
                               UnitHistory& out) {
  auto rows = db.query(
      "SELECT run.id, run.start_ms, run.end_ms, run.seconds, run.hours_start, "
      "run.hours_end, run.start_degc, run.water_degc, run.air_degc, "
      "run.load_pct, run.first_speed, run.at_speed_s, run.light_load_s, "
      "run.attempts, run.begins_in_log, run.ends, run.verdict, log.zone_known "
      "FROM run JOIN log ON log.id = run.log_id "
      "WHERE run.unit_id = $1 AND log.sha256 <> $2 "
      "ORDER BY run.start_ms, run.hours_start, run.id",
      which);
  if (!rows) return rows.error();
  const Rows& row = **rows;
  out.zone_known = true;
  while ((*rows)->next()) {
    PastRun run;
    run.id = row.whole(0);
    if (!row.is_null(1)) run.start = TimeMs{row.whole(1)};
    if (!row.is_null(2)) run.end = TimeMs{row.whole(2)};
    run.seconds = row.number(3);
    run.hours_start = row.number(4);
    run.hours_end = row.number(5);
    run.start_degc = row.number(6);
    run.water_degc = row.number(7);
    run.air_degc = row.number(8);
    run.load_pct = row.number(9);
    run.first_speed = row.number(10);
    run.at_speed_s = row.number(11);
    run.light_load_s = row.number(12);
    run.attempts = row.is_null(13) ? 0 : static_cast<int>(row.whole(13));
    run.begins_in_log = row.whole(14) != 0;
    run.ends_in_log = row.text(15) == "log";
    run.verdict = severity_of(row.text(16));
    out.zone_known = out.zone_known && row.whole(17) != 0;
    out.runs.push_back(run);
  }
  return (*rows)->trouble();
}

/// Runs that can be placed in time, by date or, where no run has one, by the
/// hour meter.
void keep_placed(UnitHistory& out) {
  const bool dated =
      std::any_of(out.runs.begin(), out.runs.end(),
                  [](const PastRun& r) { return is_set(r.start); });
  const auto placed = [dated](const PastRun& r) {
    return dated ? is_set(r.start) : std::isfinite(r.hours_start);
  };
  const std::size_t all = out.runs.size();
  std::erase_if(out.runs, [&](const PastRun& r) { return !placed(r); });
  out.undated = all - out.runs.size();
  std::stable_sort(out.runs.begin(), out.runs.end(),
                   [dated](const PastRun& a, const PastRun& b) {
                     return dated ? a.start < b.start
                                  : a.hours_start < b.hours_start;
                   });
}

using RunIndex = std::unordered_map<std::int64_t, std::uint32_t>;

std::optional<Error> read_figures(Database& db, const FieldValue& id,
                                  const RunIndex& index, UnitHistory& out) {
  auto rows = db.query(
      "SELECT figure.run_id, figure.figure, figure.basis, figure.value, "
      "figure.se, figure.at, figure.slope, figure.slope_se, figure.n "
      "FROM run JOIN figure ON figure.run_id = run.id WHERE run.unit_id = $1",
      {&id, 1});
  if (!rows) return rows.error();
  const Rows& row = **rows;
  while ((*rows)->next()) {
    const auto run = index.find(row.whole(0));
    const auto kind = figure_named(row.text(1));
    if (run == index.end() || !kind) continue;
    PastFigure figure;
    figure.run = run->second;
    figure.basis = basis_named(row.text(2));
    figure.value = row.number(3);
    figure.se = row.number(4);
    figure.at = row.number(5);
    figure.slope = row.number(6);
    figure.slope_se = row.number(7);
    figure.n = static_cast<std::int32_t>(row.whole(8));
    if (!std::isfinite(figure.value)) continue;
    out.figures[static_cast<std::size_t>(*kind)].push_back(figure);
  }
  for (auto& figures : out.figures) {
    std::sort(
        figures.begin(), figures.end(),
        [](const PastFigure& a, const PastFigure& b) { return a.run < b.run; });
  }
  return (*rows)->trouble();
}

std::optional<Error> read_findings(Database& db, const FieldValue& id,
                                   const RunIndex& index, UnitHistory& out) {
  auto rows = db.query(
      "SELECT finding.run_id, finding.check_name, finding.severity "
      "FROM run JOIN finding ON finding.run_id = run.id "
      "WHERE run.unit_id = $1 ORDER BY run.start_ms, finding.seq",
      {&id, 1});
  if (!rows) return rows.error();
  while ((*rows)->next()) {
    const auto run = index.find((*rows)->whole(0));
    const CheckCard* check = check_named((*rows)->text(1));
    if (run == index.end() || check == nullptr) continue;
    out.findings.push_back(
        {run->second, check->info->id, severity_of((*rows)->text(2))});
  }
  return (*rows)->trouble();
}

}  // namespace

Basis basis_named(std::string_view name) {
  for (std::size_t i = 0; i < kBasisNames.size(); ++i) {
    if (kBasisNames[i] == name) return static_cast<Basis>(i);
  }
  return Basis::none;
}

std::string_view name_of(Basis basis) {
  return kBasisNames[static_cast<std::size_t>(basis)];
}

void count_hours(UnitHistory& history) {
  history.metered =
      !history.runs.empty() && std::isfinite(history.runs.front().hours_start);
  double hours = history.metered ? history.runs.front().hours_start : 0.0;
  double meter = hours;    // what the meter said last, at `hours`
  double counted = 0.0;    // hours since then by the runs
  TimeMs since = kNoTime;  // when it said so
  history.meter_breaks.clear();
  for (PastRun& run : history.runs) {
    if (std::isfinite(run.hours_start)) {
      const double by_meter = run.hours_start - meter;
      // No set runs more hours than have gone by; 2 h for clocks and zones.
      const double gone_by =
          is_set(since) && is_set(run.start)
              ? static_cast<double>((run.start - since).ms) / 3.6e6 + 2.0
              : HUGE_VAL;
      const bool goes_on = by_meter >= -0.2 && by_meter <= gone_by;
      hours += goes_on ? std::max(by_meter, 0.0) : counted;
      if (!goes_on) {
        history.meter_breaks.push_back(
            static_cast<std::uint32_t>(&run - history.runs.data()));
      }
      meter = run.hours_start;
      since = run.start;
      counted = 0.0;
      run.hours = hours;
    } else {
      run.hours = hours + counted;
    }
    counted += run.seconds / 3600.0;
  }
}

Result<UnitHistory> load_history(Database& db, const UnitRow& unit,
                                 const std::string& but_sha256) {
  UnitHistory out;
  out.unit = unit;
  const FieldValue id{unit.id};
  const std::array<FieldValue, 2> which = {id, FieldValue{but_sha256}};
  if (auto error = read_runs(db, which, out)) return *error;
  keep_placed(out);
  RunIndex index;
  index.reserve(out.runs.size());
  for (std::size_t i = 0; i < out.runs.size(); ++i) {
    index[out.runs[i].id] = static_cast<std::uint32_t>(i);
  }
  if (auto error = read_figures(db, id, index, out)) return *error;
  if (auto error = read_findings(db, id, index, out)) return *error;
  count_hours(out);
  return out;
}

}  // namespace telltale::host::season
