#include "season/reference.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "telltale/condition/median.hpp"
#include "telltale/condition/oil_viscosity.hpp"

namespace telltale::host::season {
namespace {

constexpr std::size_t kLeastFitted = 6;  // runs, for a regression
constexpr double kLeastLogged = 0.8;     // of the runs must tell a cause
constexpr double kSlopeDoubt = 0.1;  // within runs and between them: not alike

double median_of(std::vector<double> x) {
  return median_in_place(std::span<double>(x));
}

double rounded(double x, double step) {
  return std::isfinite(x) ? std::round(x / step) * step : kNone;
}

/// The basis that most of a set's runs have.
Basis main_basis(const std::vector<PastFigure>& figures) {
  std::array<int, 16> count{};
  Basis best = Basis::none;
  for (const PastFigure& f : figures) {
    const auto i = static_cast<std::size_t>(f.basis);
    ++count[i];
    if (count[i] > count[static_cast<std::size_t>(best)]) best = f.basis;
  }
  return best;
}

double cause_of(Cause cause, const PastFigure& figure, const PastRun& run) {
  switch (cause) {
    case Cause::own:
      return figure.at;
    case Cause::water:
      return run.water_degc;
    case Cause::air:
      return run.air_degc;
    case Cause::start:
      return run.start_degc;
    case Cause::load:
      return run.load_pct;
  }
  return kNone;
}

double reference_of(Cause cause, const Condition0& reference) {
  switch (cause) {
    case Cause::own:
      return reference.own;
    case Cause::water:
      return reference.water;
    case Cause::air:
      return reference.air;
    case Cause::start:
      return reference.start;
    case Cause::load:
      return reference.load;
  }
  return kNone;
}

/// Two independent statements about one number.
Prior combined(const Prior& a, const Prior& b) {
  if (!std::isfinite(a.sd)) return b;
  if (!std::isfinite(b.sd)) return a;
  const double wa = 1.0 / (a.sd * a.sd);
  const double wb = 1.0 / (b.sd * b.sd);
  return {(wa * a.mean + wb * b.mean) / (wa + wb), 1.0 / std::sqrt(wa + wb)};
}

class Adjustment {
 public:
  Adjustment(const UnitHistory& history, FigureKind kind,
             const ReferenceTable& references, const Profile& profile,
             std::span<const Change> changes)
      : history_(history), kind_(kind), profile_(profile), changes_(changes) {
    out_.basis = main_basis(history.of(kind));
    const auto found = references.find({kind, out_.basis});
    if (found != references.end()) out_.reference = found->second;
  }

  Adjusted run() {
    for (const PastFigure& f : history_.of(kind_)) {
      if (f.basis == out_.basis) {
        figures_.push_back(f);
      } else {
        ++out_.other_basis;
      }
    }
    if (figures_.empty()) return std::move(out_);
    std::vector<double> values;
    for (const PastFigure& f : figures_) values.push_back(f.value);
    level_ = median_of(std::move(values));
    choose_influences();
    keep_complete();
    if (!fit()) by_priors_only();
    correct();
    return std::move(out_);
  }

 private:
  /// Share of the runs that tell a cause.
  [[nodiscard]] double logged(Cause cause) const {
    double told = 0.0;
    for (const PastFigure& f : figures_) {
      told += std::isfinite(cause_of(cause, f, history_.runs[f.run])) ? 1 : 0;
    }
    return told / static_cast<double>(figures_.size());
  }
  void choose_influences() {
    for (Influence influence :
         influences_on(kind_, out_.basis, profile_, level_)) {
      // The air in the engine room goes with the sea, more or less.
      if (influence.cause == Cause::water &&
          logged(Cause::water) < kLeastLogged &&
          logged(Cause::air) >= kLeastLogged) {
        influence.cause = Cause::air;
        influence.prior.mean *= 0.7;
        influence.prior.sd = std::hypot(influence.prior.sd, 0.3);
      }
      const bool told =
          logged(influence.cause) >= kLeastLogged &&
          std::isfinite(reference_of(influence.cause, out_.reference));
      if (!told) {
        out_.corrected = false;
        continue;
      }
      if (influence.cause == Cause::own) {
        influence.prior = combined(influence.prior, pooled_slope(figures_));
      }
      influences_.push_back(influence);
    }
    out_.causes = influences_.size();
  }
  void keep_complete() {
    for (const PastFigure& f : figures_) {
      const PastRun& run = history_.runs[f.run];
      std::vector<double> off;
      for (const Influence& influence : influences_) {
        double now = cause_of(influence.cause, f, run);
        double then = reference_of(influence.cause, out_.reference);
        if (kind_ == FigureKind::hot_oil_pressure &&
            influence.cause == Cause::own) {
          now = log_viscosity(now);
          then = log_viscosity(then);
        }
        off.push_back(now - then);
      }
      if (std::any_of(off.begin(), off.end(),
                      [](double x) { return !std::isfinite(x); })) {
        continue;
      }
      out_.run.push_back(f.run);
      out_.hours.push_back(run.hours);
      out_.raw.push_back(f.value);
      out_.off.insert(out_.off.end(), off.begin(), off.end());
    }
  }

  /// y = level + trend + changes + effects; false where the runs are too few
  /// or say too little.
  bool fit() {
    const std::size_t n = out_.raw.size();
    const std::size_t q = out_.causes;
    if (q == 0 || n < kLeastFitted) return false;
    const double first = out_.hours.front();
    const double span = out_.hours.back() - first;
    std::vector<double> x;
    std::vector<Prior> priors;
    const Prior nothing{0.0, std::numeric_limits<double>::infinity()};
    const bool sloped = span > 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      x.push_back(1.0);
      if (sloped) x.push_back((out_.hours[i] - first) / span);
      for (const Change& change : changes_) {
        x.push_back(
            change.kind == Change::Kind::step
                ? (i >= change.index ? 1.0 : 0.0)
                : std::max(0.0, out_.hours[i] - out_.hours[change.index]) /
                      std::max(span, 1e-9));
      }
      for (std::size_t j = 0; j < q; ++j) x.push_back(out_.off[i * q + j]);
    }
    const std::size_t before = 1 + (sloped ? 1 : 0) + changes_.size();
    priors.assign(before, nothing);
    for (const Influence& influence : influences_) {
      priors.push_back(influence.prior);
    }
    if (n <= before + q) return false;
    const RobustFit fit = robust_fit(x, before + q, out_.raw, priors);
    if (!fit.ok) return false;
    effect_.assign(fit.beta.begin() + static_cast<std::ptrdiff_t>(before),
                   fit.beta.end());
    out_.covariance.resize(q * q);
    for (std::size_t j = 0; j < q; ++j) {
      for (std::size_t k = 0; k < q; ++k) {
        out_.covariance[j * q + k] =
            fit.covariance[(before + j) * fit.beta.size() + before + k];
      }
    }
    return true;
  }
  void by_priors_only() {
    const std::size_t q = out_.causes;
    effect_.clear();
    out_.covariance.assign(q * q, 0.0);
    for (std::size_t j = 0; j < q; ++j) {
      effect_.push_back(influences_[j].prior.mean);
      out_.covariance[j * q + j] =
          influences_[j].prior.sd * influences_[j].prior.sd;
    }
  }
  void correct() {
    const std::size_t q = out_.causes;
    for (std::size_t i = 0; i < out_.raw.size(); ++i) {
      double value = out_.raw[i];
      for (std::size_t j = 0; j < q; ++j) {
        value -= effect_[j] * out_.off[i * q + j];
      }
      out_.value.push_back(value);
    }
  }

  const UnitHistory& history_;
  FigureKind kind_;
  const Profile& profile_;
  std::span<const Change> changes_;
  Adjusted out_;
  std::vector<PastFigure> figures_;
  std::vector<Influence> influences_;
  std::vector<double> effect_;
  double level_ = 0.0;
};

}  // namespace

ReferenceTable references_of(std::span<const UnitHistory* const> peers) {
  struct Met {
    std::vector<double> own, water, air, start, load;
  };
  std::map<std::pair<FigureKind, Basis>, Met> met;
  for (const UnitHistory* history : peers) {
    for (const FigureInfo& info : kFigures) {
      for (const PastFigure& f : history->of(info.kind)) {
        const PastRun& run = history->runs[f.run];
        Met& m = met[{info.kind, f.basis}];
        const auto add = [](std::vector<double>& to, double x) {
          if (std::isfinite(x)) to.push_back(x);
        };
        add(m.own, f.at);
        add(m.water, run.water_degc);
        add(m.air, run.air_degc);
        add(m.start, run.start_degc);
        add(m.load, run.load_pct);
      }
    }
  }
  ReferenceTable table;
  for (auto& [key, m] : met) {
    const bool by_load = info_of(key.first).condition == Condition::load;
    table[key] = {rounded(median_of(std::move(m.own)), by_load ? 10.0 : 5.0),
                  rounded(median_of(std::move(m.water)), 5.0),
                  rounded(median_of(std::move(m.air)), 5.0),
                  rounded(median_of(std::move(m.start)), 5.0),
                  rounded(median_of(std::move(m.load)), 10.0)};
  }
  return table;
}

Prior pooled_slope(std::span<const PastFigure> figures) {
  std::vector<double> slopes;
  std::vector<double> errors;
  for (const PastFigure& f : figures) {
    if (!std::isfinite(f.slope) || !(f.slope_se > 0.0)) continue;
    slopes.push_back(f.slope);
    errors.push_back(f.slope_se * f.slope_se);
  }
  if (slopes.size() < 3) {
    return {0.0, std::numeric_limits<double>::infinity()};
  }
  const double middle = median_of(slopes);
  std::vector<double> away;
  for (const double s : slopes) away.push_back(std::abs(s - middle));
  const double spread = 1.4826 * median_of(away);
  // What runs differ by, beyond their own errors.
  const double between = std::max(0.0, spread * spread - median_of(errors));
  double sum = 0.0;
  double weight = 0.0;
  for (std::size_t i = 0; i < slopes.size(); ++i) {
    const double sd = std::sqrt(errors[i] + between);
    const double pulled =
        std::clamp(slopes[i], middle - 3.0 * sd - 3.0 * spread,
                   middle + 3.0 * sd + 3.0 * spread);
    sum += pulled / (sd * sd);
    weight += 1.0 / (sd * sd);
  }
  const double mean = sum / weight;
  return {mean,
          std::sqrt(1.0 / weight + kSlopeDoubt * kSlopeDoubt * mean * mean)};
}

Adjusted::Doubt Adjusted::doubt(std::size_t from) const {
  Doubt out;
  const std::size_t n = value.size() - from;
  if (causes == 0 || n < 2) return out;
  double mean_h = 0.0;
  for (std::size_t i = from; i < value.size(); ++i) {
    mean_h += hours[i] / static_cast<double>(n);
  }
  double hh = 0.0;
  std::vector<double> mean(causes, 0.0);
  std::vector<double> slope(causes, 0.0);
  for (std::size_t i = from; i < value.size(); ++i) {
    const double h = hours[i] - mean_h;
    hh += h * h;
    for (std::size_t j = 0; j < causes; ++j) {
      mean[j] += off[i * causes + j] / static_cast<double>(n);
      slope[j] += h * off[i * causes + j];
    }
  }
  if (!(hh > 0.0)) return out;
  for (std::size_t j = 0; j < causes; ++j) slope[j] /= hh;
  for (std::size_t j = 0; j < causes; ++j) {
    for (std::size_t k = 0; k < causes; ++k) {
      const double c = covariance[j * causes + k];
      out.slope += slope[j] * slope[k] * c;
      out.level += mean[j] * mean[k] * c;
    }
  }
  out.slope = std::max(out.slope, 0.0);
  out.level = std::max(out.level, 0.0);
  return out;
}

Adjusted adjust(const UnitHistory& history, FigureKind kind,
                const ReferenceTable& references, const Profile& profile,
                std::span<const Change> changes) {
  return Adjustment(history, kind, references, profile, changes).run();
}

}  // namespace telltale::host::season
