// Lays the truth out as JSON and tells faults from what follows of them.
#include "simulate/truth/truth_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "simulate/simulate.hpp"
#include "simulate/stamp.hpp"
#include "simulate/truth/observable.hpp"

namespace telltale::host::sim {
namespace {

using Json = nlohmann::ordered_json;

std::string_view name_of(TruePhase phase) {
  constexpr std::string_view kNames[] = {"stopped", "cranking", "running-up",
                                         "no-load", "on-load",  "cool-down",
                                         "stopping"};
  return kNames[static_cast<std::size_t>(phase)];
}

Json number(double value) {
  if (!std::isfinite(value)) return nullptr;
  return std::round(value * 1000.0) / 1000.0;
}

/// What --date-order would have to say, where the log leaves it open.
std::string_view date_order(TimeStyle style) {
  switch (style) {
    case TimeStyle::day_first:
      return "dmy";
    case TimeStyle::month_first:
    case TimeStyle::twelve_hour:
      return "mdy";
    default:
      return "ymd";
  }
}

/// Of one set; `first` is the stamp of the log's first row.
class Writer {
 public:
  Writer(const SetTruth& set, TimeMs first)
      : truth_(&set.truth), scenario_(&set.scenario), first_(first) {}

  [[nodiscard]] TimeMs first_stamp() const { return stamp(truth_->first); }
  [[nodiscard]] TimeMs last_stamp() const { return stamp(truth_->last); }
  [[nodiscard]] Json at(TimeMs when) const {
    return report_time(scenario_->format, when, first_);
  }
  void append(Json& out) const {
    out["sets"].push_back(set());
    for (std::size_t i = 0; i < truth_->runs.size(); ++i) {
      out["runs"].push_back(run(i));
    }
    for (const Verdict& v : truth_->log_verdicts) {
      out["findings"].push_back(verdict(v));
    }
    for (const Fault& fault : scenario_->faults) {
      out["faults"].push_back(this->fault(fault));
    }
  }

 private:
  [[nodiscard]] TimeMs stamp(double t) const {
    return TimeMs{scenario_->clock.ms + std::llround(t * 1000.0) +
                  clock_error_ms(*scenario_, t)};
  }
  [[nodiscard]] Json time(double t) const {
    if (!std::isfinite(t)) return nullptr;
    return at(stamp(t));
  }

  [[nodiscard]] Json set() const {
    const Rating& r = scenario_->set.rating;
    Json out;
    out["unit"] = scenario_->format.unit_column;
    out["name"] = scenario_->set.name;
    out["preset"] = scenario_->preset;
    out["seed"] = scenario_->seed;
    out["frequency_hz"] = r.frequency_hz;
    out["poles"] = r.poles;
    out["power_kw"] = r.power_kw;
    out["voltage_v"] = r.voltage_v;
    out["legs"] = r.legs;
    out["power_factor"] = r.power_factor;
    out["battery_v"] = r.battery_v;
    out["generator"] = r.asynchronous ? "asynchronous" : "synchronous";
    out["winding_class"] = std::string(1, r.winding_class);
    out["class"] = fmt::format("G{}", r.performance_class);
    out["cooling"] =
        r.cooling == Cooling::sea_water ? "sea water" : "fresh water";
    out["exhaust"] = r.exhaust == Exhaust::dry ? "dry" : "wet";
    return out;
  }

  [[nodiscard]] bool injected(const Verdict& verdict) const {
    return std::any_of(
        scenario_->faults.begin(), scenario_->faults.end(),
        [&verdict](const Fault& f) {
          return info_of(f.kind).check == verdict.check &&
                 (f.target() == Channel::none || f.target() == verdict.channel);
        });
  }

  [[nodiscard]] Json verdict(const Verdict& v) const {
    Json out;
    out["check"] = v.check;
    out["severity"] = sim::name_of(v.degree);
    if (v.channel != Channel::none) {
      out["channel"] = info_of(v.channel).slug;
    } else {
      out["channel"] = nullptr;
    }
    out["from"] = time(v.from);
    out["due"] = time(v.due);
    out["to"] = time(v.to);
    out["value"] = number(v.value);
    out["limit"] = number(v.limit);
    out["unit"] = v.unit;
    if (v.check == "abrupt-stop") {
      out["first_out"] = v.first_out == Channel::none
                             ? Json(nullptr)
                             : Json(info_of(v.first_out).slug);
    }
    const std::string why = not_observable(v, *scenario_);
    out["observable"] = why.empty();
    if (!why.empty()) out["why_not"] = why;
    out["injected"] = injected(v);
    return out;
  }

  [[nodiscard]] Json verdicts(const std::vector<Verdict>& all) const {
    Json out = Json::array();
    for (const Verdict& v : all) out.push_back(verdict(v));
    return out;
  }

  [[nodiscard]] static Degree worst(const std::vector<Verdict>& all) {
    Degree degree = Degree::none;
    for (const Verdict& v : all) degree = std::max(degree, v.degree);
    return degree;
  }

  [[nodiscard]] Json run(std::size_t i) const {
    const TrueRun& run = truth_->runs[i];
    Json out;
    out["run"] = i + 1;
    out["unit"] = scenario_->format.unit_column;
    out["start"] = time(run.start);
    out["end"] = time(run.end);
    out["begins"] = run.begins_in_log ? "start" : "log";
    out["ends"] = !run.ends_in_log ? "log" : run.abrupt ? "abrupt" : "stop";
    out["running_s"] = number(run.running_s);
    out["attempts"] = run.begins_in_log ? Json(run.attempts) : Json(nullptr);
    out["crank_seconds"] =
        run.begins_in_log ? number(run.crank_s) : Json(nullptr);
    out["phases"] = Json::array();
    for (const PhaseSpan& span : run.phases) {
      out["phases"].push_back({{"phase", name_of(span.phase)},
                               {"from", time(span.from)},
                               {"to", time(span.to)}});
    }
    out["load_steps"] = Json::array();
    for (const LoadStep& step : run.steps) {
      out["load_steps"].push_back(
          {{"at", time(step.at)},
           {"from_pct", number(step.from_pct)},
           {"to_pct", number(step.to_pct)},
           {"deviation_pct", number(step.deviation_pct)},
           {"recovery_s", number(step.recovery_s)},
           {"lone", step.lone}});
    }
    const TrueFigures& f = run.figures;
    out["figures"] = {{"hot_oil_pressure", number(f.hot_oil_kpa)},
                      {"frequency_at_load", number(f.half_load_hz)},
                      {"droop", number(f.droop_pct)},
                      {"charging_voltage", number(f.charging_v)},
                      {"crank_dip", number(f.crank_v)},
                      {"light_load_share", number(f.light_load_pct)}};
    const Degree degree = worst(run.verdicts);
    out["verdict"] = degree == Degree::none ? "healthy" : sim::name_of(degree);
    out["findings"] = verdicts(run.verdicts);
    return out;
  }

  // The fault that was the last to begin before a verdict was due.
  [[nodiscard]] const Fault* cause_of(const Verdict& verdict) const {
    const Fault* cause = nullptr;
    for (const Fault& fault : scenario_->faults) {
      if (fault.at_s > verdict.due + 1.0) continue;
      if (cause == nullptr || fault.at_s >= cause->at_s) cause = &fault;
    }
    return cause;
  }

  // What the truth says of one fault, in the runs from its onset on.
  [[nodiscard]] Json fault(const Fault& fault) const {
    const FaultInfo& info = info_of(fault.kind);
    Json out;
    out["check"] = info.check;
    out["set"] = scenario_->format.unit_column;
    out["channel"] = fault.target() == Channel::none
                         ? Json(nullptr)
                         : Json(info_of(fault.target()).slug);
    out["onset"] = time(fault.at_s);
    out["end"] = time(fault.until_s);
    out["size"] = number(fault.full_size());
    out["size_unit"] = info.unit;
    out["ramp_s"] = number(fault.ramp());
    const Verdict* found = nullptr;
    std::size_t found_in = 0;
    Json consequences = Json::array();
    const auto look = [&](const Verdict& v, std::size_t run) {
      const bool same =
          v.check == info.check &&
          (fault.target() == Channel::none || fault.target() == v.channel);
      if (same) {
        if (v.to + 1.0 < fault.at_s || v.from > fault.until_s) return;
        if (found == nullptr || v.degree > found->degree) {
          found = &v;
          found_in = run;
        }
      } else if (!injected(v) && cause_of(v) == &fault) {
        consequences.push_back({{"check", v.check},
                                {"severity", sim::name_of(v.degree)},
                                {"run", run == 0 ? Json(nullptr) : Json(run)},
                                {"from", time(v.from)}});
      }
    };
    for (std::size_t i = 0; i < truth_->runs.size(); ++i) {
      for (const Verdict& v : truth_->runs[i].verdicts) look(v, i + 1);
    }
    for (const Verdict& v : truth_->log_verdicts) look(v, 0);
    out["run"] = found_in == 0 ? Json(nullptr) : Json(found_in);
    out["severity"] =
        found == nullptr ? Json("none") : Json(sim::name_of(found->degree));
    if (found != nullptr) {
      out["from"] = time(found->from);
      out["due"] = time(found->due);
      out["value"] = number(found->value);
      out["limit"] = number(found->limit);
      out["unit"] = found->unit;
      out["observable"] = not_observable(*found, *scenario_).empty();
    }
    out["consequences"] = std::move(consequences);
    return out;
  }

  const Truth* truth_;
  const Scenario* scenario_;
  TimeMs first_;
};

}  // namespace

std::string write_truth(std::span<const SetTruth> sets) {
  Json out;
  out["schema"] = "telltale.truth/1";
  out["log"] = Json::object();
  for (const char* list : {"sets", "runs", "findings", "faults"}) {
    out[list] = Json::array();
  }
  if (sets.empty()) return out.dump(1) + "\n";
  TimeMs first = Writer(sets.front(), TimeMs{}).first_stamp();
  TimeMs last = first;
  std::uint64_t rows = 0;
  for (const SetTruth& set : sets) {
    const Writer writer(set, first);
    first = std::min(first, writer.first_stamp());
    last = std::max(last, writer.last_stamp());
    rows += set.truth.rows;
  }
  const Scenario& scenario = sets.front().scenario;
  const Writer times(sets.front(), first);
  Json& log = out["log"];
  log["first"] = times.at(first);
  log["last"] = times.at(last);
  log["rows"] = rows;
  log["interval_s"] = scenario.interval_s;
  log["date_order"] = date_order(scenario.format.time);
  log["channels"] = Json::array();
  for (const SensorSpec& sensor : scenario.sensors) {
    log["channels"].push_back(info_of(sensor.channel).slug);
  }
  for (const SetTruth& set : sets) Writer(set, first).append(out);
  return out.dump(1) + "\n";
}

}  // namespace telltale::host::sim
