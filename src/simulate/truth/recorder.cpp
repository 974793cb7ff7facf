// Cuts the states into runs and phases and puts the questions.
#include "simulate/truth/recorder.hpp"

#include <algorithm>
#include <cmath>

namespace telltale::host::sim {
namespace {

constexpr double kBelieveS = 10.0;  // load must stay so long to change a phase

bool has(const std::vector<Verdict>& verdicts, std::string_view check) {
  return std::any_of(verdicts.begin(), verdicts.end(),
                     [check](const Verdict& v) { return v.check == check; });
}

// Contract section 6: over-excitation replaces the general findings.
void drop_explained(std::vector<Verdict>& verdicts) {
  if (!has(verdicts, "over-excitation")) return;
  std::erase_if(verdicts, [](const Verdict& v) {
    return v.check == "voltage-high" || v.check == "frequency-high";
  });
}

// The last no-load stretch before the stop is the cool-down, if there was a
// load before it; else there was no cool-down.
void name_cool_down(std::vector<PhaseSpan>& phases) {
  const auto is = [](TruePhase phase) {
    return [phase](const PhaseSpan& span) { return span.phase == phase; };
  };
  const bool loaded =
      std::any_of(phases.begin(), phases.end(), is(TruePhase::on_load));
  for (std::size_t i = 0; i < phases.size(); ++i) {
    PhaseSpan& span = phases[i];
    if (span.phase == TruePhase::cool_down && !loaded) {
      span.phase = TruePhase::no_load;
    }
    if (i + 1 < phases.size() && loaded && span.phase == TruePhase::no_load &&
        (phases[i + 1].phase == TruePhase::cool_down ||
         phases[i + 1].phase == TruePhase::stopping) &&
        i > 0 && phases[i - 1].phase == TruePhase::on_load) {
      span.phase = TruePhase::cool_down;
    }
  }
  for (std::size_t i = 1; i < phases.size();) {
    if (phases[i].phase == phases[i - 1].phase) {
      phases[i - 1].to = phases[i].to;
      phases.erase(phases.begin() + static_cast<std::ptrdiff_t>(i));
    } else {
      ++i;
    }
  }
}

Questions all_questions(const Scenario& scenario) {
  Questions questions;
  add_limit_questions(scenario, questions);
  add_load_questions(scenario, questions);
  add_trend_questions(scenario, questions);
  add_start_questions(scenario, questions);
  add_stop_questions(scenario, questions);
  add_speed_questions(scenario, questions);
  return questions;
}

}  // namespace

Recorder::Recorder(const Scenario& scenario)
    : scenario_(&scenario),
      view_(scenario),
      questions_(all_questions(scenario)),
      steps_(scenario.set.rating),
      data_(scenario) {}

void Recorder::begin_run(const Snapshot& now) {
  in_run_ = true;
  run_ = TrueRun{};
  run_.index = now.run;
  run_.start = now.t - now.dt;
  run_.begins_in_log = now.phase == TruePhase::cranking;
  run_index_ = now.run;
  was_cranking_ = ran_ = false;
  light_s_ = crank_volts_ = 0.0;
  charging_.clear();
  steps_ = StepBook(scenario_->set.rating);
  data_.begin_run(now);
}

void Recorder::end_run(double t, bool in_log) {
  in_run_ = false;
  run_.ends_in_log = in_log;
  run_.end = t;
  if (!in_log && !run_.phases.empty()) run_.phases.back().to = t;
  while (in_log && !run_.phases.empty() &&
         run_.phases.back().phase == TruePhase::stopped) {
    run_.end = run_.phases.back().from;
    run_.phases.pop_back();
  }
  name_cool_down(run_.phases);
  if (run_.running_s > 0.0) {
    run_.figures.light_load_pct = 100.0 * light_s_ / run_.running_s;
  }
  steps_.close();
  run_.steps = steps_.steps();
  const Snapshot& now = view_.now();
  run_.abrupt = in_log && !now.commanded_stop && now.stop_load_pct > 5.0;
  for (const auto& question : questions_) {
    question->answer(view_, run_, run_.verdicts);
  }
  drop_explained(run_.verdicts);
  data_.end_run(now, run_.running_s, run_.verdicts);
  truth_.runs.push_back(std::move(run_));
  questions_ = all_questions(*scenario_);
  view_ = View(*scenario_);
}

void Recorder::count_cranks(const Snapshot& now) {
  const bool cranking = now.phase == TruePhase::cranking;
  if (cranking && !was_cranking_) ++run_.attempts;
  if (cranking) run_.crank_s += now.dt;
  was_cranking_ = cranking;
}

void Recorder::keep_figures(const Snapshot& now) {
  TrueFigures& figures = run_.figures;
  const double volts = value_of(now, Channel::battery_voltage);
  if (now.state == EngineState::cranking) {
    if (crank_volts_ > 0.0) {
      const double held = std::max(volts, crank_volts_);
      figures.crank_v =
          std::isnan(figures.crank_v) ? held : std::min(figures.crank_v, held);
    }
    crank_volts_ = volts;
  } else {
    crank_volts_ = 0.0;
  }
  if (view_.running() && now.load_pct < 30.0) light_s_ += now.dt;
  if (!view_.at_speed()) return;
  charging_.add(now.t, now.dt, volts);
  figures.charging_v = charging_.mean();
  figures.hot_oil_kpa = now.hot_oil_kpa;
  figures.half_load_hz = now.half_load_hz;
  figures.droop_pct = now.droop_pct;
}

void Recorder::follow_phase(const Snapshot& now) {
  std::vector<PhaseSpan>& phases = run_.phases;
  const double from = now.t - now.dt;
  if (phases.empty()) {
    phases.push_back({now.phase, from, now.t});
    return;
  }
  PhaseSpan& last = phases.back();
  last.to = now.t;
  if (now.phase == last.phase) {
    light_since_ = -1.0;
    return;
  }
  const auto by_load = [](TruePhase phase) {
    return phase == TruePhase::no_load || phase == TruePhase::on_load;
  };
  if (by_load(now.phase) && by_load(last.phase)) {
    if (light_since_ < 0.0) light_since_ = from;
    if (now.t - light_since_ < kBelieveS) return;
    last.to = light_since_;
    phases.push_back({now.phase, light_since_, now.t});
  } else {
    last.to = from;
    phases.push_back({now.phase, from, now.t});
  }
  light_since_ = -1.0;
}

void Recorder::see(const Snapshot& now) {
  if (now.t < scenario_->log_from_s || now.t > scenario_->log_to_s) return;
  last_t_ = now.t;
  const bool turning = now.phase != TruePhase::stopped;
  if (in_run_ && !turning &&
      (now.state == EngineState::stopped || now.state == EngineState::fault ||
       now.run != run_index_)) {
    view_.update(now);
    follow_phase(now);
    end_run(now.t, true);
  }
  if (!in_run_ && turning) begin_run(now);
  view_.update(now);
  data_.see(now);
  if (in_run_) {
    count_cranks(now);
    follow_phase(now);
    keep_figures(now);
    ran_ = ran_ || view_.running();
    if (ran_ && now.phase != TruePhase::stopped) run_.running_s += now.dt;
    steps_.see(now, view_.at_speed());
  }
  for (const auto& question : questions_) question->see(view_);
}

void Recorder::row(const Sample& sample, const Snapshot& now) {
  if (truth_.rows == 0) truth_.first = sample.t;
  ++truth_.rows;
  truth_.last = sample.t;
  data_.row(sample, now);
}

Truth Recorder::finish(const SensorBank& sensors) {
  if (in_run_) end_run(last_t_, false);
  std::vector<Verdict> verdicts;
  data_.finish(sensors, truth_.first, truth_.last, verdicts);
  // What concerns the data belongs to the run that it overlaps.
  for (const Verdict& verdict : verdicts) {
    bool placed = false;
    for (TrueRun& run : truth_.runs) {
      if (verdict.to < run.start || verdict.from > run.end) continue;
      run.verdicts.push_back(verdict);
      placed = true;
    }
    if (!placed) truth_.log_verdicts.push_back(verdict);
  }
  return std::move(truth_);
}

}  // namespace telltale::host::sim
