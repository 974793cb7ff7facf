// A delay counts from the first state beyond the limit.
#include "simulate/truth/watch.hpp"

#include <cmath>

namespace telltale::host::sim {

std::string_view name_of(Degree degree) {
  switch (degree) {
    case Degree::note:
      return "note";
    case Degree::attention:
      return "attention";
    case Degree::urgent:
      return "urgent";
    case Degree::none:
      break;
  }
  return "none";
}

Watch::Watch(std::string_view check, Channel channel, std::string_view unit,
             Side side, std::initializer_list<Level> levels)
    : check_(check), channel_(channel), unit_(unit), side_(side) {
  for (const Level& level : levels) states_.push_back({.level = level});
}

void Watch::see(double t, double dt, bool gate, double value, double shift) {
  for (State& state : states_) {
    const double limit = state.level.limit + shift;
    if (!gate || !beyond(value, limit)) {
      state.held_s = 0.0;
      continue;
    }
    if (state.held_s == 0.0) state.since = t - dt;
    state.held_s += dt;
    if (state.held_s < state.level.delay_s) continue;
    if (state.from < 0.0) {
      state.from = state.since;
      state.due = t;
      state.shift = shift;
    }
    state.to = t;
    if (std::isnan(state.worst) || beyond(value, state.worst)) {
      state.worst = value;
    }
  }
}

void Watch::answer(std::vector<Verdict>& out) const {
  const State* best = nullptr;
  for (const State& state : states_) {
    if (state.from < 0.0) continue;
    const bool higher =
        best == nullptr || state.level.degree > best->level.degree ||
        (state.level.degree == best->level.degree && state.from < best->from);
    if (higher) best = &state;
  }
  if (best == nullptr) return;
  Verdict verdict;
  verdict.check = check_;
  verdict.degree = best->level.degree;
  verdict.channel = channel_;
  verdict.from = best->from;
  verdict.due = best->due;
  verdict.to = best->to;
  verdict.value = best->worst;
  verdict.limit = best->level.limit + best->shift;
  verdict.unit = unit_;
  out.push_back(verdict);
}

}  // namespace telltale::host::sim
