#include "season/fleet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <map>
#include <thread>

#include "season/booking.hpp"
#include "season/figure_facts.hpp"
#include "season/follow.hpp"
#include "season/habits.hpp"
#include "season/multiple_tests.hpp"
#include "season/peers.hpp"
#include "season/reference.hpp"

namespace telltale::host::season {
namespace {

/// Calls work(i) for every i below n, on all cores.
template <class Work>
void on_all_cores(std::size_t n, Work&& work) {
  const std::size_t cores = std::max(1U, std::thread::hardware_concurrency());
  std::atomic<std::size_t> next{0};
  const auto loop = [&] {
    for (std::size_t i = next++; i < n; i = next++) work(i);
  };
  std::vector<std::thread> others;
  for (std::size_t i = 1; i < std::min(cores, n); ++i) {
    others.emplace_back(loop);
  }
  loop();
  for (std::thread& thread : others) thread.join();
}

class Fleet {
 public:
  explicit Fleet(std::vector<UnitHistory> histories)
      : histories_(std::move(histories)) {}

  SeasonReport run() {
    gather();
    const std::map<std::string, ReferenceTable> references = find_references();
    std::size_t series = 0;
    for (const UnitHistory& history : histories_) {
      for (const FigureInfo& info : kFigures) {
        series += history.of(info.kind).empty() ? 0 : 1;
      }
    }
    const double false_alarm =
        kReportFalseAlarm /
        static_cast<double>(std::max<std::size_t>(1, series));
    on_all_cores(histories_.size(), [&](std::size_t i) {
      const ReferenceTable& table = references.at(reference_key(i));
      for (const FigureInfo& info : kFigures) {
        if (histories_[i].of(info.kind).empty()) continue;
        report_.units[i].figures.push_back(
            follow_figure(histories_[i], info.kind, table, false_alarm));
      }
    });
    believe_trends();
    compare_peers();
    for (std::size_t i = 0; i < histories_.size(); ++i) {
      find_bookings(histories_[i], report_.units[i]);
    }
    report_.bookings = in_order(report_.units);
    return std::move(report_);
  }

 private:
  void gather() {
    for (const UnitHistory& history : histories_) {
      const auto& runs = history.runs;
      if (runs.empty()) continue;
      const auto earlier = [](TimeMs a, TimeMs b) {
        return !is_set(a) || (is_set(b) && b < a) ? b : a;
      };
      report_.first = earlier(report_.first, runs.front().start);
      for (const PastRun& run : runs) {
        const TimeMs end = is_set(run.end) ? run.end : run.start;
        if (is_set(end) && (!is_set(report_.last) || report_.last < end)) {
          report_.last = end;
        }
      }
    }
    for (const UnitHistory& history : histories_) {
      report_.units.push_back(describe_use(history, report_.last));
      report_.units.back().group = peer_group(history.unit.about);
      report_.runs += report_.units.back().runs;
      report_.hours += report_.units.back().habits.hours;
    }
  }
  /// Sets without peers have a reference of their own.
  [[nodiscard]] std::string reference_key(std::size_t i) const {
    const std::string& group = report_.units[i].group;
    return group.empty() ? fmt::format("\n{}", i) : group;
  }
  [[nodiscard]] std::map<std::string, ReferenceTable> find_references() const {
    std::map<std::string, std::vector<const UnitHistory*>> groups;
    for (std::size_t i = 0; i < histories_.size(); ++i) {
      groups[reference_key(i)].push_back(&histories_[i]);
    }
    std::map<std::string, ReferenceTable> out;
    for (const auto& [key, members] : groups) {
      out[key] = references_of(members);
    }
    return out;
  }
  void believe_trends() {
    std::vector<double> p;
    std::vector<FigureFollow*> of;
    for (UnitSeason& unit : report_.units) {
      for (FigureFollow& figure : unit.figures) {
        if (!figure.has_trend) continue;
        p.push_back(figure.p);
        of.push_back(&figure);
      }
    }
    const std::vector<bool> yes = believable(p, kReportFalseAlarm);
    for (std::size_t i = 0; i < of.size(); ++i) of[i]->certain = yes[i];
  }
  void compare_peers() {
    struct Field {
      std::vector<PeerValue> values;
      double worth = 0.0;
    };
    std::map<std::tuple<std::string, FigureKind, Basis>, Field> fields;
    for (UnitSeason& unit : report_.units) {
      if (unit.group.empty()) continue;
      for (FigureFollow& figure : unit.figures) {
        const Estimate& latest = figure.latest;
        if (!std::isfinite(latest.value) || !std::isfinite(latest.low)) {
          continue;
        }
        Field& field = fields[{unit.group, figure.kind, figure.basis}];
        field.values.push_back(
            {latest.value, (latest.high - latest.low) / (2.0 * figure.quantile),
             &figure});
        field.worth = std::max(field.worth, figure.worth);
      }
    }
    std::vector<double> p;
    std::vector<PeerStanding*> of;
    for (auto& [key, field] : fields) {
      compare(field.values, info_of(std::get<1>(key)).bad, field.worth);
      for (const PeerValue& value : field.values) {
        if (!value.figure->peers.known) continue;
        p.push_back(value.figure->peers.p);
        of.push_back(&value.figure->peers);
      }
    }
    const std::vector<bool> yes = believable(p, kReportFalseAlarm);
    for (std::size_t i = 0; i < of.size(); ++i) of[i]->stands_out = yes[i];
  }

  std::vector<UnitHistory> histories_;
  SeasonReport report_;
};

}  // namespace

std::string peer_group(const UnitDigest& unit) {
  if (!unit.model.empty()) return unit.model;
  const Rating& rating = unit.rating;
  if (!is_known(rating.power_kw)) return {};
  std::string out = fmt::format("{:.4g} kW", rating.power_kw);
  if (is_known(rating.frequency_hz)) {
    out += fmt::format(", {:.0f} Hz", rating.frequency_hz);
  }
  return out;
}

SeasonReport season_of(std::vector<UnitHistory> histories) {
  return Fleet(std::move(histories)).run();
}

Result<SeasonReport> season_of(Store& store, const std::string& unit) {
  const Result<std::vector<UnitRow>> rows = store.units();
  if (!rows) return rows.error();
  std::vector<UnitHistory> histories;
  bool found = unit.empty();
  for (const UnitRow& row : *rows) {
    Result<UnitHistory> history = load_history(store.database(), row);
    if (!history) return history.error();
    found = found || row.about.name == unit;
    histories.push_back(std::move(*history));
  }
  if (!found) {
    return Error{fmt::format("no set named \"{}\"", unit), store.name(),
                 "telltale season units lists the sets"};
  }
  SeasonReport report = season_of(std::move(histories));
  report.store = store.name();
  if (!unit.empty()) keep_only(unit, report);
  return report;
}

}  // namespace telltale::host::season
